#include "body/athlete_place.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace quarterturn::body {
namespace {

constexpr double shortest_movement_s = 0.2;
/// Share of the picture's height per second above which a cell shares as moving: half the speed that ends a hold, for a
/// body that fills about two thirds of the picture.
constexpr double moving_share = 0.025;
/// A part of the body is seen by about this many cells; the fastest few may be noise.
constexpr std::size_t cells_of_a_part = 6;

std::uint16_t moving_limit(const SpeedRecord& record) {
    return static_cast<std::uint16_t>(moving_share * record.rows() * cell_px / SpeedRecord::unit_px);
}

/// Steps [first, last) of one movement: rests shorter than `rest_s` do not part it.
struct Episode {
    std::size_t first, last;
    double cells = 0;  ///< moving, mean over its steps
};

std::vector<Episode> episodes_of(const SpeedRecord& record) {
    constexpr double rest_s = 0.4;
    const std::uint16_t limit = moving_limit(record);
    std::vector<Episode> episodes;
    for (std::size_t i = 0; i < record.steps().size(); ++i) {
        const auto cells = record.at(i);
        const auto count = static_cast<std::size_t>(
            std::count_if(cells.begin(), cells.end(), [limit](std::uint16_t speed) { return speed > limit; }));
        if (count < cells_of_a_part) continue;
        const double since =
            episodes.empty() ? rest_s : record.steps()[i].from_s - record.steps()[episodes.back().last - 1].to_s;
        if (since >= rest_s) episodes.push_back({i, i, 0});
        episodes.back().last = i + 1;
        episodes.back().cells += static_cast<double>(count);
    }
    for (Episode& episode : episodes) episode.cells /= static_cast<double>(episode.last - episode.first);
    return episodes;
}

/// By cell: the sum over all movements of the share of its time in which the cell moves. Who walks through a part of
/// the picture is there for a small share of the walk only; who turns on the spot moves there all the while.
cv::Mat dwelling(const SpeedRecord& record) {
    constexpr double at_an_end_s = 1.0;
    cv::Mat shares = cv::Mat::zeros(record.rows(), record.columns(), CV_32F);
    const auto steps = record.steps();
    const std::uint16_t limit = moving_limit(record);
    const std::vector<Episode> episodes = episodes_of(record);
    double most_cells = 0;
    for (const Episode& episode : episodes) most_cells = std::max(most_cells, episode.cells);
    for (const Episode& episode : episodes) {
        const double start = steps[episode.first].from_s;
        const double end = steps[episode.last - 1].to_s;
        if (end - start < shortest_movement_s) continue;
        // A film that begins or ends in movement most likely shows her coming from the phone or going back to it.
        const bool comes_or_goes = start < at_an_end_s || end > steps.back().to_s - at_an_end_s;
        // A movement of the whole body says more about where that is than a hand's.
        const double weight = (comes_or_goes ? 0.25 : 1.0) * episode.cells / most_cells;
        auto* share = shares.ptr<float>();
        for (std::size_t i = episode.first; i < episode.last; ++i) {
            const auto part = static_cast<float>(weight * (steps[i].to_s - steps[i].from_s) / (end - start));
            for (const std::uint16_t speed : record.at(i)) *share++ += speed > limit ? part : 0;
            share = shares.ptr<float>();
        }
    }
    return shares;
}

/// The connected part with the largest sum of `shares`.
cv::Mat main_part(const cv::Mat& moving, const cv::Mat& shares) {
    cv::Mat labels;
    const int parts = cv::connectedComponents(moving, labels, 8, CV_32S);
    std::vector<double> sums(static_cast<std::size_t>(parts));
    for (int y = 0; y < labels.rows; ++y)
        for (int x = 0; x < labels.cols; ++x)
            sums[static_cast<std::size_t>(labels.at<int>(y, x))] += static_cast<double>(shares.at<float>(y, x));
    sums[0] = -1;
    const auto best = static_cast<int>(std::max_element(sums.begin(), sums.end()) - sums.begin());
    return labels == best;
}

/// Bounding box without the thin ends: rows and columns with at least two cells.
std::optional<CellBox> box_of(const cv::Mat& part) {
    const auto ends = [](const cv::Mat& line) -> std::optional<std::pair<int, int>> {
        int first = -1;
        int last = -1;
        for (int i = 0; i < static_cast<int>(line.total()); ++i) {
            if (line.at<int>(i) < 2 * 255) continue;
            if (first < 0) first = i;
            last = i;
        }
        if (first < 0) return std::nullopt;
        return std::pair{first, last + 1};
    };
    cv::Mat columns, rows;
    cv::reduce(part, columns, 0, cv::REDUCE_SUM, CV_32S);
    cv::reduce(part, rows, 1, cv::REDUCE_SUM, CV_32S);
    const auto across = ends(columns);
    const auto down = ends(rows);
    if (!across || !down) return std::nullopt;
    return CellBox{across->first, down->first, across->second, down->second};
}

}  // namespace

std::optional<AthletePlace> find_athlete_place(const SpeedRecord& record) {
    if (record.steps().empty() || record.columns() < 4 || record.rows() < 4) return std::nullopt;
    const cv::Mat shares = dwelling(record);
    double most = 0;
    cv::minMaxLoc(shares, nullptr, &most);
    if (most <= 0) return std::nullopt;
    constexpr double of_the_most = 0.2;
    const cv::Mat part = main_part(shares > of_the_most * most, shares);
    const std::optional<CellBox> box = box_of(part);
    // Patches that noise or compression stirs up are smaller than any moving person that could be measured.
    constexpr int least_cells = 24;
    if (!box || box->height() < record.rows() / 8 || cv::countNonZero(part) < least_cells) return std::nullopt;
    AthletePlace place{*box, static_cast<double>(box->height() * cell_px), {}};
    cv::Mat wide;
    cv::dilate(part, wide, cv::Mat::ones(3, 3, CV_8U));
    for (int y = 0; y < wide.rows; ++y)
        for (int x = 0; x < wide.cols; ++x) place.mask.push_back(wide.at<std::uint8_t>(y, x) ? 1 : 0);
    return place;
}

MovementAt movement_at(const SpeedRecord& record, std::size_t step, const AthletePlace& place) {
    const std::uint16_t limit = moving_limit(record);
    const auto cells = record.at(step);
    std::vector<std::uint16_t> speeds;
    speeds.reserve(cells.size());
    std::size_t moving = 0;
    double amount = 0;
    double amount_in_place = 0;
    for (std::size_t c = 0; c < cells.size(); ++c) {
        const bool in_place = place.mask[c] != 0;
        if (in_place) speeds.push_back(cells[c]);
        if (cells[c] <= limit) continue;
        ++moving;
        amount += cells[c] - limit;
        if (in_place) amount_in_place += cells[c] - limit;
    }
    MovementAt out;
    if (moving >= cells_of_a_part) out.in_place = amount_in_place / amount;
    if (speeds.size() < cells_of_a_part) return out;
    const auto rank = speeds.begin() + (cells_of_a_part - 1);
    std::nth_element(speeds.begin(), rank, speeds.end(), std::greater<>());
    out.speed_px = *rank * SpeedRecord::unit_px;
    return out;
}

}  // namespace quarterturn::body
