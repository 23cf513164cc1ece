// Where one step ends and the next begins, and which steps are a walk's, in courses and swings that are known.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "posing/floor_speed.hpp"
#include "posing/foot_steps.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

double least_jerk(double t, double from_s, double to_s) {
    const double u = std::clamp((t - from_s) / (to_s - from_s), 0.0, 1.0);
    return u * u * u * (10 - 15 * u + 6 * u * u);
}

/// The left foot ends a walk with a step of a third of the height and, from where it landed, opens a turn.
body::BodyCourse two_steps_of_one_foot() {
    body::BodyCourse course;
    course.height_px = 400;
    for (int i = 0; i < 45; ++i) {
        body::CourseFrame& frame = course.frames.emplace_back();
        frame.t_s = i / 15.0;
        frame.present = true;
        frame.height_px = 400;
        const double rolled =
            7 * std::clamp((frame.t_s - 0.72) / 0.3, 0.0, 1.0);  // slowly onto the toes before it lifts
        const double walked = 130 * least_jerk(frame.t_s, 1.0, 1.45), turned = 60 * least_jerk(frame.t_s, 1.45, 1.82);
        for (const body::Joint mark : {body::Joint::left_ankle, body::Joint::left_heel, body::Joint::left_foot_tip})
            frame.points[static_cast<std::size_t>(mark)] = {100 + rolled + walked - turned, 600, 1};
        for (const body::Joint mark : {body::Joint::right_ankle, body::Joint::right_heel, body::Joint::right_foot_tip})
            frame.points[static_cast<std::size_t>(mark)] = {230, 600, 1};
    }
    return course;
}

FootSwing swing(Foot foot, double middle_s, double way) {
    return {foot, middle_s - 0.22, middle_s + 0.22, middle_s, 0.01, way};
}

/// A body that goes from 1.6 to 2.9 s, half a body height per second.
std::vector<FloorPlace> going() {
    std::vector<FloorPlace> places;
    for (double t = 0; t < 5; t += 1 / 15.0) places.push_back({t, 0.5 * std::clamp(t - 1.6, 0.0, 1.3), 0});
    return places;
}

}  // namespace

TEST_CASE("two steps of one foot right after each other are two") {
    const auto swings = foot_swings(two_steps_of_one_foot());
    REQUIRE(swings.size() == 2);
    CHECK(swings[0].land_s == doctest::Approx(1.46).epsilon(0.06));
    CHECK(std::abs(swings[0].middle_s - 1.225) < 0.03);
    CHECK(swings[1].lift_s == doctest::Approx(1.46).epsilon(0.06));
}

TEST_CASE("a walk begins with the step before the body goes and ends with the one after it has stopped") {
    const std::vector<FootSwing> steps{swing(Foot::right, 1.25, 0.15), swing(Foot::left, 1.85, 0.3),
                                       swing(Foot::right, 2.45, 0.3), swing(Foot::left, 3.05, 0.15)};
    const auto walks = walks_in(going(), steps, {0, 5});
    REQUIRE(walks.size() == 1);
    CHECK(walks[0].start_s == doctest::Approx(steps.front().lift_s));
    CHECK(walks[0].end_s == doctest::Approx(steps.back().land_s));
}

TEST_CASE("a step of a turn that goes as far as the walk's but not at its pace is not the walk's") {
    const std::vector<FootSwing> steps{swing(Foot::left, 0.85, 0.14), swing(Foot::right, 1.25, 0.15),
                                       swing(Foot::left, 1.85, 0.3),  swing(Foot::right, 2.45, 0.3),
                                       swing(Foot::left, 3.05, 0.15), swing(Foot::right, 3.45, 0.14)};
    const auto walks = walks_in(going(), steps, {0, 5});
    REQUIRE(walks.size() == 1);
    CHECK(walks[0].start_s == doctest::Approx(steps[1].lift_s));
    CHECK(walks[0].end_s == doctest::Approx(steps[4].land_s));
}
