#include <doctest/doctest.h>

#include <cmath>

#include "body/facing.hpp"

using namespace quarterturn::body;

namespace {

constexpr double height_px = 500;

/// A body that faces the phone near the floor, so that feet tell nothing.
/// @param misread  hands behind the head, and what the network then says of the trunk: turned half away
CourseFrame frame_at(double t_s, bool misread) {
    using enum Joint;
    CourseFrame frame;
    frame.t_s = t_s;
    frame.present = true;
    frame.height_px = height_px;
    const auto pair = [&](Joint left, Joint right, double x, double y, double z) {
        frame.points[static_cast<std::size_t>(left)] = {height_px * x, height_px * y, 1};
        frame.points[static_cast<std::size_t>(right)] = {-height_px * x, height_px * y, 1};
        frame.world[static_cast<std::size_t>(left)] = {static_cast<float>(x), 0, static_cast<float>(-z)};
        frame.world[static_cast<std::size_t>(right)] = {static_cast<float>(-x), 0, static_cast<float>(z)};
    };
    pair(left_ear, right_ear, misread ? 0 : 0.045, 0.07, 0);
    frame.points[static_cast<std::size_t>(nose)] = {0.004 * height_px, 0.07 * height_px, 1};
    pair(left_shoulder, right_shoulder, misread ? -0.08 : 0.14, 0.18, misread ? 0.07 : 0);
    pair(left_elbow, right_elbow, 0.2, misread ? 0.05 : 0.35, 0);
    pair(left_wrist, right_wrist, misread ? 0.03 : 0.2, misread ? 0.06 : 0.5, 0);
    pair(left_hip, right_hip, misread ? -0.03 : 0.08, 0.47, misread ? 0.05 : 0);
    pair(left_knee, right_knee, 0.05, 0.71, 0);
    pair(left_ankle, right_ankle, 0.05, 0.95, 0);
    pair(left_heel, right_heel, 0.04, 0.96, 0);
    pair(left_foot_tip, right_foot_tip, misread ? 0.04 : 0.06, 0.975, 0);
    return frame;
}

}  // namespace

TEST_CASE("hands that go behind the head do not turn the body round") {
    BodyCourse course;
    course.height_px = height_px;
    for (int i = 0; i < 220; ++i) course.frames.push_back(frame_at(i / 15.0, i >= 60 && i < 190));
    const FacingSeries facing = facing_of(course);
    for (std::size_t i = 0; i < 220; ++i) {
        CAPTURE(i);
        REQUIRE(facing.yaw_deg[i]);
        CHECK(std::abs(*facing.yaw_deg[i]) < 45);
    }
}
