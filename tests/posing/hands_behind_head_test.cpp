#include <doctest/doctest.h>

#include <cmath>

#include "posing/landmark_joints.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

constexpr double height_px = 500;

/// Stands front on with both hands behind the head; `bent` shifts everything above the hips across the picture.
body::CourseFrame frame_at(double t_s, double bent) {
    using enum body::Joint;
    body::CourseFrame frame;
    frame.t_s = t_s;
    frame.present = true;
    frame.height_px = height_px;
    const auto put = [&](body::Joint joint, double x, double y) {
        frame.points[static_cast<std::size_t>(joint)] = {height_px * x, height_px * y, 0.9};
    };
    const auto pair = [&](body::Joint left, body::Joint right, double x, double y, double shift) {
        put(left, x + shift, y);
        put(right, -x + shift, y);
    };
    put(nose, bent, 0.07);
    pair(left_ear, right_ear, 0.035, 0.07, bent);
    pair(left_wrist, right_wrist, 0.04, 0.06, bent / 4);
    // The network's shoulders and elbows stray.
    const double stray = 0.05 * std::sin(17 * t_s);
    pair(left_shoulder, right_shoulder, 0.11, 0.18, stray);
    pair(left_elbow, right_elbow, 0.2, 0.05, -stray);
    pair(left_hip, right_hip, 0.06, 0.47, stray / 2);
    pair(left_knee, right_knee, 0.06, 0.71, 0);
    pair(left_ankle, right_ankle, 0.06, 0.95, 0);
    return frame;
}

}  // namespace

TEST_CASE("with the hands behind the head the head tells that the trunk still moves") {
    body::BodyCourse course;
    course.height_px = height_px;
    body::FacingSeries facing;
    for (int i = 0; i < 60; ++i) {
        const double t = i / 15.0;
        // From 1 to 2 s she bends by 0.05 body heights, her hands moving a quarter of it.
        course.frames.push_back(frame_at(t, 0.05 * std::fmin(std::fmax(t - 1, 0), 1)));
        facing.yaw_deg.emplace_back(0.0);
        facing.error_deg.emplace_back(1.0);
    }
    const JointSeries joints = joints_of(course, facing);
    CHECK_FALSE(joints.postures[0][static_cast<std::size_t>(Joint::left_shoulder)]);
    CHECK(joints.postures[0][static_cast<std::size_t>(Joint::head)]);
    const SpeedSeries speed = fastest_joint_speed(joints);
    CHECK(*speed.speed[8] < 0.01);
    CHECK(*speed.speed[22] == doctest::Approx(0.05).epsilon(0.05));
    CHECK(*speed.speed[45] < 0.01);
}
