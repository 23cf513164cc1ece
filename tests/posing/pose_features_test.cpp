#include "posing/pose_features.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

constexpr double height_px = 500;

struct Stood {
    double lean_deg = 0;    ///< of the phone
    double weight = 0;      ///< hips to one side of the feet, body heights
    double sway = 0;        ///< of everything above the feet, to either side
    bool hands_up = false;  ///< behind the head
    double flying = 0;      ///< by which the network's elbows stray
};

body::CourseFrame frame_at(double t_s, const Stood& stood) {
    using enum body::Joint;
    body::CourseFrame frame;
    frame.t_s = t_s;
    frame.present = true;
    frame.height_px = height_px;
    const double swayed = stood.sway * std::sin(2 * M_PI * 0.4 * t_s);
    const auto put = [&](body::Joint joint, double x, double y, double seen = 0.95) {
        const double lean = stood.lean_deg * M_PI / 180;
        const double up = 0.95 - y;  // sways like a post about the feet
        const double at = x + swayed * up / 0.95;
        frame.points[static_cast<std::size_t>(joint)] = {height_px * (at * std::cos(lean) + up * std::sin(lean)),
                                                         height_px * (0.95 - up * std::cos(lean) + at * std::sin(lean)),
                                                         seen};
    };
    const auto pair = [&](body::Joint left, body::Joint right, double x, double y, double shift = 0,
                          double seen = 0.95) {
        put(left, shift + x, y, seen);
        put(right, shift - x, y, seen);
    };
    put(nose, 0, 0.07);
    pair(left_ear, right_ear, 0.035, 0.07);
    const double stray = stood.flying * std::sin(2 * M_PI * 2 * t_s);
    pair(left_shoulder, right_shoulder, 0.11, 0.18, stood.weight / 2);
    if (stood.hands_up) {
        pair(left_elbow, right_elbow, 0.2, 0.05, stray);
        pair(left_wrist, right_wrist, 0.04, 0.06, 0, 0.2);
    } else {
        pair(left_elbow, right_elbow, 0.16, 0.35, stray);
        pair(left_wrist, right_wrist, 0.19, 0.5);
    }
    pair(left_hip, right_hip, 0.055, 0.47, stood.weight);
    pair(left_knee, right_knee, 0.05, 0.71, stood.weight / 2);
    pair(left_ankle, right_ankle, 0.04, 0.95);
    pair(left_heel, right_heel, 0.035, 0.96);
    pair(left_foot_tip, right_foot_tip, 0.06, 0.98);
    return frame;
}

PoseFeatures features_of(const Stood& stood) {
    body::BodyCourse course;
    course.height_px = height_px;
    body::FacingSeries facing;
    for (int i = 0; i < 90; ++i) {
        course.frames.push_back(frame_at(i / 15.0, stood));
        facing.yaw_deg.emplace_back(0.0);
        facing.error_deg.emplace_back(1.0);
    }
    return features_in(course, facing, {0, 6});
}

double hip_shift(const Stood& stood) {
    return features_of(stood)[Feature::hip_shift]->value;
}

}  // namespace

TEST_CASE("weight on one leg shows as a shift of the hips") {
    CHECK(hip_shift({}) == doctest::Approx(0).epsilon(1e-6));
    CHECK(hip_shift({.weight = 0.02}) == doctest::Approx(0.02).epsilon(0.01));
    CHECK(hip_shift({.weight = -0.02}) == doctest::Approx(0.02).epsilon(0.01));
}

TEST_CASE("a phone that leans by two degrees shifts the hips by half of what it seems") {
    const double seems = 0.48 * std::sin(2 * M_PI / 180);
    CHECK(hip_shift({.lean_deg = 2}) == doctest::Approx(seems / 2).epsilon(0.02));
    CHECK(hip_shift({.lean_deg = 2}) < 0.009);
}

TEST_CASE("sway over both feet is no weight on one leg") {
    CHECK(hip_shift({.sway = 0.03}) < 0.003);
}

TEST_CASE("hidden hands behind the head count as seen") {
    const PoseFeatures seen = features_of({.hands_up = true});
    CHECK(seen[Feature::hands_from_head]->value < 0.09);
    CHECK(seen[Feature::hands_from_head]->seen == doctest::Approx(0.7));
    CHECK(features_of({})[Feature::hands_from_head]->value > 0.4);
}

TEST_CASE("elbows that fly about say that little is known of the hands") {
    CHECK(features_of({.hands_up = true})[Feature::hands_busy]->seen == 1);
    CHECK(features_of({.hands_up = true, .flying = 0.05})[Feature::hands_busy]->seen < 0.5);
}
