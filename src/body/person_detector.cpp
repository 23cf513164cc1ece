#include "body/person_detector.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace quarterturn::body {
namespace {

constexpr int input_side = 224;
constexpr std::size_t cells = 2254;
constexpr std::size_t numbers_per_box = 12;  // centre, size, then four points; the first two carry the region
constexpr double score_limit = 0.5;
constexpr double overlap_limit = 0.3;

struct Candidate {
    std::array<double, 4> box{};  ///< left, top, right, bottom, 0..1 of the square input
    Point middle;
    Point reach;
    double score = 0;
};

/// Two looks per cell at stride 8 and 16, six at stride 32: the three detection layers of the network.
std::vector<Point> cell_centres() {
    std::vector<Point> centres;
    for (const auto& [stride, looks] : {std::pair{8, 2}, std::pair{16, 2}, std::pair{32, 6}}) {
        const int count = input_side / stride;
        for (int y = 0; y < count; ++y) {
            for (int x = 0; x < count; ++x) {
                for (int look = 0; look < looks; ++look) centres.push_back({(x + 0.5) / count, (y + 0.5) / count});
            }
        }
    }
    return centres;
}

double overlap(const std::array<double, 4>& a, const std::array<double, 4>& b) {
    const double width = std::min(a[2], b[2]) - std::max(a[0], b[0]);
    const double height = std::min(a[3], b[3]) - std::max(a[1], b[1]);
    if (width <= 0 || height <= 0) return 0;
    const double common = width * height;
    const double all = (a[2] - a[0]) * (a[3] - a[1]) + (b[2] - b[0]) * (b[3] - b[1]) - common;
    return all > 0 ? common / all : 0;
}

double probability(float logit) {
    return 1.0 / (1.0 + std::exp(-std::clamp(static_cast<double>(logit), -100.0, 100.0)));
}

Candidate decode(std::span<const float> numbers, Point anchor, double score) {
    const auto at = [&](std::size_t i) { return static_cast<double>(numbers[i]) / input_side; };
    const double x = anchor.x + at(0);
    const double y = anchor.y + at(1);
    return {{x - at(2) / 2, y - at(3) / 2, x + at(2) / 2, y + at(3) / 2},
            {anchor.x + at(4), anchor.y + at(5)},
            {anchor.x + at(6), anchor.y + at(7)},
            score};
}

/// Overlapping candidates become one, weighted by how sure each is; its score is the surest one's.
std::vector<Candidate> merged(std::vector<Candidate> candidates) {
    std::stable_sort(candidates.begin(), candidates.end(),
                     [](const auto& a, const auto& b) { return a.score > b.score; });
    std::vector<Candidate> people;
    while (!candidates.empty()) {
        const Candidate first = candidates.front();
        Candidate sum{};
        std::vector<Candidate> rest;
        for (const Candidate& candidate : candidates) {
            if (&candidate != &candidates.front() && overlap(candidate.box, first.box) <= overlap_limit) {
                rest.push_back(candidate);
                continue;
            }
            sum.score += candidate.score;
            sum.middle = {sum.middle.x + candidate.middle.x * candidate.score,
                          sum.middle.y + candidate.middle.y * candidate.score};
            sum.reach = {sum.reach.x + candidate.reach.x * candidate.score,
                         sum.reach.y + candidate.reach.y * candidate.score};
        }
        people.push_back({first.box,
                          {sum.middle.x / sum.score, sum.middle.y / sum.score},
                          {sum.reach.x / sum.score, sum.reach.y / sum.score},
                          first.score});
        candidates = std::move(rest);
    }
    return people;
}

}  // namespace

PersonDetector::PersonDetector(Network network) : network_(std::move(network)), anchors_(cell_centres()) {}

Result<PersonDetector> PersonDetector::create(std::shared_ptr<const NetworkModel> model) {
    const auto boxes = model->output_of_size(cells * numbers_per_box);
    const auto scores = model->output_of_size(cells);
    const Tensor& input = model->graph().tensors[static_cast<std::size_t>(model->graph().inputs[0])];
    if (!boxes || !scores || input.shape != std::vector<int>{1, input_side, input_side, 3}) {
        return Error{ErrorCode::bad_input,
                     "The person-detector model file holds another network; run third_party/setup.sh again."};
    }
    auto network = Network::build(std::move(model), {*boxes, *scores});
    if (!network) return network.error();
    return PersonDetector{std::move(network).value()};
}

Result<std::vector<Person>> PersonDetector::find(const PictureView& picture) {
    // The whole picture in a square, black where it does not reach.
    const Region square{{picture.width() / 2, picture.height() / 2}, std::max(picture.width(), picture.height()), 0};
    picture.crop(square, input_side, Border::black, -1.0F, 1.0F, network_.input());
    if (auto status = network_.run(); !status) return status.error();
    const auto boxes = network_.output(0);
    const auto scores = network_.output(1);
    std::vector<Candidate> candidates;
    for (std::size_t i = 0; i < anchors_.size(); ++i) {
        const double score = probability(scores[i]);
        if (score < score_limit) continue;
        candidates.push_back(decode(boxes.subspan(i * numbers_per_box, numbers_per_box), anchors_[i], score));
    }
    std::vector<Person> people;
    for (const Candidate& candidate : merged(std::move(candidates))) {
        const auto region = region_around(square.to_picture(candidate.middle), square.to_picture(candidate.reach));
        if (region) people.push_back({*region, candidate.score});
    }
    return people;
}

}  // namespace quarterturn::body
