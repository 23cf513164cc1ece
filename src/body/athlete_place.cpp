#include "body/athlete_place.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace quarterturn::body {
namespace {

constexpr double smoothing_s = 0.2;
/// Share of the picture's height per second above which a cell counts as moving: half the speed that ends a hold, for a
/// body that fills about two thirds of the picture.
constexpr double moving_share = 0.025;
/// A part of the body is seen by about this many cells; the fastest few may be noise.
constexpr std::size_t cells_of_a_part = 6;

cv::Mat count_moving(const MotionRecord& record) {
    cv::Mat counts = cv::Mat::zeros(record.rows(), record.columns(), CV_32F);
    std::vector<cv::Vec2f> velocities;
    const auto limit = static_cast<float>(moving_share * record.rows() * cell_px);
    for (std::size_t i = 0; i < record.steps().size(); ++i) {
        record.velocities(i, smoothing_s, velocities);
        auto* count = counts.ptr<float>();
        for (std::size_t c = 0; c < velocities.size(); ++c)
            if (std::hypot(velocities[c][0], velocities[c][1]) > limit)
                count[c] += static_cast<float>(record.steps()[i].to_s - record.steps()[i].from_s);
    }
    return counts;
}

/// The connected part with the largest sum of `counts`.
cv::Mat main_part(const cv::Mat& moving, const cv::Mat& counts) {
    cv::Mat labels;
    const int parts = cv::connectedComponents(moving, labels, 8, CV_32S);
    std::vector<double> sums(static_cast<std::size_t>(parts));
    for (int y = 0; y < labels.rows; ++y)
        for (int x = 0; x < labels.cols; ++x)
            sums[static_cast<std::size_t>(labels.at<int>(y, x))] += static_cast<double>(counts.at<float>(y, x));
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

std::optional<AthletePlace> find_athlete_place(const MotionRecord& record) {
    if (record.steps().empty() || record.cells() == 0) return std::nullopt;
    const cv::Mat counts = count_moving(record);
    double most = 0;
    cv::minMaxLoc(counts, nullptr, &most);
    if (most < smoothing_s) return std::nullopt;
    const cv::Mat moving = counts > std::max(smoothing_s, 0.15 * most);
    const cv::Mat part = main_part(moving, counts);
    const std::optional<CellBox> box = box_of(part);
    if (!box || box->height() < 4) return std::nullopt;
    AthletePlace place{*box, static_cast<double>(box->height() * cell_px), {}};
    cv::Mat wide;
    cv::dilate(part, wide, cv::Mat::ones(3, 3, CV_8U));
    for (int y = 0; y < wide.rows; ++y)
        for (int x = 0; x < wide.cols; ++x) place.mask.push_back(wide.at<std::uint8_t>(y, x) ? 1 : 0);
    return place;
}

MovementAt movement_at(const MotionRecord& record, std::size_t step, const AthletePlace& place, double window_s) {
    std::vector<cv::Vec2f> velocities;
    record.velocities(step, window_s, velocities);
    std::vector<double> speeds;
    std::size_t moving = 0;
    std::size_t moving_in_place = 0;
    const double limit = moving_share * record.rows() * cell_px;
    for (std::size_t c = 0; c < velocities.size(); ++c) {
        const double speed = std::hypot(velocities[c][0], velocities[c][1]);
        const bool in_place = place.mask[c] != 0;
        if (in_place) speeds.push_back(speed);
        if (speed <= limit) continue;
        ++moving;
        if (in_place) ++moving_in_place;
    }
    MovementAt out;
    if (moving >= cells_of_a_part) out.in_place = static_cast<double>(moving_in_place) / static_cast<double>(moving);
    if (speeds.size() < cells_of_a_part) return out;
    const auto rank = speeds.begin() + (cells_of_a_part - 1);
    std::nth_element(speeds.begin(), rank, speeds.end(), std::greater<>());
    out.speed_px = *rank;
    return out;
}

}  // namespace quarterturn::body
