#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "body/landmarks.hpp"
#include "film.hpp"
#include "models.hpp"
#include "rendered.hpp"

using namespace quarterturn;
using namespace quarterturn::body;

namespace {

struct Agreement {
    double median = 0;  ///< of the distances of the 13 main joints from truth, in % of body height
    double worst = 0;
};

Agreement agreement(const Body& body, const sample::TruePicture& truth) {
    double top = 1e9;
    double bottom = -1e9;
    for (const auto& point : truth.points) {
        top = std::min(top, point.y_px);
        bottom = std::max(bottom, point.y_px);
    }
    std::vector<double> distances;
    for (const Joint joint : main_joints) {
        const auto& point = truth.points[static_cast<std::size_t>(joint)];
        const double dx = static_cast<double>(body[joint].x) - point.x_px;
        const double dy = static_cast<double>(body[joint].y) - point.y_px;
        distances.push_back(std::hypot(dx, dy) / (bottom - top) * 100);
    }
    std::sort(distances.begin(), distances.end());
    return {distances[distances.size() / 2], distances.back()};
}

Reading read_still(const media::Image& still) {
    auto detector = PersonDetector::create(full_models().detector);
    auto network = LandmarkNetwork::create(full_models().landmarks);
    REQUIRE(detector);
    REQUIRE(network);
    const PictureView view{still};
    const auto people = detector->find(view);
    REQUIRE(people);
    REQUIRE(people->size() == 1);
    auto reading = network->read(view, people->front().region, true);
    REQUIRE(reading);
    // The mask lives in the network, which ends here.
    reading->mask = {};
    return *reading;
}

}  // namespace

TEST_CASE("the joints of a drawn figure are found where they are") {
    const auto script = sample_script("this_season/2026-03-07_quarter_turns.json");
    const auto truth = sample::true_of(script);
    for (const double second : {6.0, 10.0, 18.0}) {
        CAPTURE(second);
        const auto picture = std::min_element(
            truth.pictures.begin(), truth.pictures.end(),
            [&](const auto& a, const auto& b) { return std::abs(a.t_s - second) < std::abs(b.t_s - second); });
        const Reading reading = read_still(sample::still(script, second));
        CHECK(reading.confidence > 0.9F);
        const Agreement found = agreement(reading.body, *picture);
        MESSAGE("second " << second << ": median " << found.median << " %, worst " << found.worst << " % of height");
        CHECK(found.median < 1.8);
    }
}

TEST_CASE("a picture without anybody has nobody in it") {
    auto detector = PersonDetector::create(full_models().detector);
    REQUIRE(detector);
    for (const std::uint8_t grey : {std::uint8_t{0}, std::uint8_t{90}, std::uint8_t{255}}) {
        const media::Image blank{300, 500, 3, std::vector<std::uint8_t>(300 * 500 * 3, grey)};
        const auto people = detector->find(PictureView{blank});
        REQUIRE(people);
        CHECK(people->empty());
    }
}

TEST_CASE("the mask is the figure: about the share of the region that a body covers, and none of it outside") {
    const auto script = sample_script("this_season/2026-03-07_quarter_turns.json");
    const auto still = sample::still(script, 6);
    auto detector = PersonDetector::create(full_models().detector);
    auto network = LandmarkNetwork::create(full_models().landmarks);
    REQUIRE(detector);
    REQUIRE(network);
    const PictureView view{still};
    const auto people = detector->find(view);
    REQUIRE(people);
    REQUIRE_FALSE(people->empty());
    const Region region = people->front().region;
    const auto reading = network->read(view, region, true);
    REQUIRE(reading);
    REQUIRE(reading->mask.size() == static_cast<std::size_t>(mask_side) * mask_side);
    const auto inside = [&](const Landmark& landmark) {
        const Point at = region.from_picture({static_cast<double>(landmark.x), static_cast<double>(landmark.y)});
        const auto column = static_cast<std::size_t>(std::clamp(at.x, 0.0, 0.999) * mask_side);
        const auto row = static_cast<std::size_t>(std::clamp(at.y, 0.0, 0.999) * mask_side);
        return reading->mask[row * mask_side + column] > 0;
    };
    for (const Joint joint : {Joint::nose, Joint::left_shoulder, Joint::right_hip, Joint::left_knee})
        CHECK(inside(reading->body[joint]));
    const auto covered =
        std::count_if(reading->mask.begin(), reading->mask.end(), [](float logit) { return logit > 0; });
    const double share = static_cast<double>(covered) / static_cast<double>(reading->mask.size());
    CHECK(share > 0.05);
    CHECK(share < 0.25);
}

TEST_CASE("asking for the mask does not change the joints") {
    const auto still = sample::still(sample_script("this_season/2026-03-07_quarter_turns.json"), 6);
    auto network = LandmarkNetwork::create(full_models().landmarks);
    REQUIRE(network);
    const PictureView view{still};
    const Region region{{216, 400}, 730, 0};
    const auto with = network->read(view, region, true);
    REQUIRE(with);
    const Body body = with->body;
    const auto without = network->read(view, region, false);
    REQUIRE(without);
    CHECK(without->mask.empty());
    for (std::size_t i = 0; i < landmark_count; ++i)
        CHECK(std::abs(without->body.landmarks[i].x - body.landmarks[i].x) < 1e-3F);
}
