// Bodies that walk as published norms say people walk, through our own step finder. Murray, Drought, Kory 1964 and
// Murray, Kory, Sepic 1970 (as quoted at moon.ouhsc.edu/dthompso/gait/knmatics/stride.htm): 117 steps per minute for
// men and women, steps of 79 and 66 cm, hence 1.54 and 1.29 m/s. Perry 1992: 113 steps per minute (from memory). A foot
// swings for two fifths of its stride (Perry 1992; from memory). A stage walk in heels is slower and no norm is known
// for it; 80 to 140 steps per minute is a range for sanity (common practice, no source), which the last case spans.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "posing/foot_steps.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

struct Gait {
    double per_min, step_cm, height_cm;
};

constexpr double first_s = 1;
constexpr int strides_each = 5;

/// Where one foot is along its way, in strides, and how high it is lifted, 0..1: it stands for three fifths.
std::pair<double, double> foot_at(double stride) {
    const double done = std::clamp(stride, 0.0, static_cast<double>(strides_each));
    const double u = std::clamp((done - std::floor(done)) / 0.4, 0.0, 1.0);
    return {std::floor(done) + u * u * u * (10 - 15 * u + 6 * u * u), std::pow(std::sin(std::numbers::pi * u), 2)};
}

void put(body::CourseFrame& frame, body::Joint joint, double x, double y) {
    frame.points[static_cast<std::size_t>(joint)] = {x, y, 1};
}

/// Walks across the picture, 15 pictures a second; left and right half a stride apart.
body::BodyCourse walking(const Gait& gait) {
    constexpr double height_px = 500;
    const double stride_s = 120 / gait.per_min, stride_px = 2 * gait.step_cm / gait.height_cm * height_px;
    body::BodyCourse course;
    course.height_px = height_px;
    for (int i = 0; i / 15.0 < first_s + (strides_each + 1) * stride_s + 1; ++i) {
        body::CourseFrame frame;
        frame.t_s = i / 15.0;
        frame.present = true;
        frame.height_px = height_px;
        const auto [left, left_up] = foot_at((frame.t_s - first_s) / stride_s);
        const auto [right, right_up] = foot_at((frame.t_s - first_s) / stride_s - 0.5);
        for (const auto joint : {body::Joint::left_ankle, body::Joint::left_heel, body::Joint::left_foot_tip})
            put(frame, joint, 100 + left * stride_px, 600 - 30 * left_up);
        for (const auto joint : {body::Joint::right_ankle, body::Joint::right_heel, body::Joint::right_foot_tip})
            put(frame, joint, 100 + right * stride_px, 600 - 30 * right_up);
        course.frames.push_back(frame);
    }
    return course;
}

/// Steps per minute from the first swing's middle to the last one's.
double cadence_of(const std::vector<FootSwing>& swings) {
    return 60 * static_cast<double>(swings.size() - 1) / (swings.back().middle_s - swings.front().middle_s);
}

}  // namespace

TEST_CASE("walks at published norms are read with their steps and cadence") {
    for (const Gait& gait :
         {Gait{117, 79, 176}, Gait{117, 66, 162}, Gait{113, 70, 168}, Gait{80, 50, 165}, Gait{140, 60, 165}}) {
        CAPTURE(gait.per_min);
        CAPTURE(gait.step_cm);
        const auto swings = foot_swings(walking(gait));
        REQUIRE(swings.size() == 2 * strides_each);
        CHECK(std::abs(cadence_of(swings) - gait.per_min) < 3);  // the limit the walk is held to
        for (std::size_t i = 0; i < swings.size(); ++i) {
            CHECK(swings[i].foot == (i % 2 == 0 ? Foot::left : Foot::right));
            CHECK(swings[i].way == doctest::Approx(2 * gait.step_cm / gait.height_cm).epsilon(0.1));
        }
    }
}
