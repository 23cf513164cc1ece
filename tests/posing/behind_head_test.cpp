#include "posing/behind_head.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "posing/hands_speed.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

constexpr double height_px = 500;

/// Stands front on with both hands behind the head.
/// @param hands  along the picture, body heights: where they have moved to
/// @param ahead  by which the left ankle is lower in the picture
/// @param weight by which the hips lie to one side of the feet
body::CourseFrame frame_at(double t_s, double hands, double ahead, double weight) {
    using enum body::Joint;
    body::CourseFrame frame;
    frame.t_s = t_s;
    frame.present = true;
    frame.height_px = height_px;
    const auto pair = [&](body::Joint left, body::Joint right, double x, double y, double shift) {
        frame.points[static_cast<std::size_t>(left)] = {height_px * (x + shift), height_px * y, 0.9};
        frame.points[static_cast<std::size_t>(right)] = {height_px * (shift - x), height_px * y, 0.9};
    };
    pair(left_ear, right_ear, 0.035, 0.07, 0);
    pair(left_wrist, right_wrist, 0.04, 0.06, hands);
    pair(left_shoulder, right_shoulder, 0.11, 0.18, 0);
    pair(left_elbow, right_elbow, 0.2, 0.05, 0);
    pair(left_hip, right_hip, 0.06, 0.47, weight);
    pair(left_ankle, right_ankle, 0.06, 0.95, 0);
    frame.points[static_cast<std::size_t>(left_ankle)].y += height_px * ahead;
    return frame;
}

/// Three postures of three seconds, half a second between them.
struct Stance {
    double unrest = 0, ahead = 0, weight = 0;
};
body::BodyCourse course_of(const std::array<Stance, 3>& stances) {
    body::BodyCourse course;
    course.height_px = height_px;
    for (int i = 0; i < 15 * 10; ++i) {
        const double t = i / 15.0;
        const Stance& now = stances[std::min<std::size_t>(2, static_cast<std::size_t>(t / 3.5))];
        course.frames.push_back(frame_at(t, now.unrest * std::sin(2 * M_PI * 0.8 * t), now.ahead, now.weight));
    }
    return course;
}

const StillStretch one_posture{{0, 10}, {{3, 3.5}, {6.5, 7}}};

}  // namespace

TEST_CASE("hands that go from a pose to the hair and back to a pose part it into three") {
    const auto course = course_of({Stance{0.0005}, Stance{0.01}, Stance{0.0005}});
    const auto parts = parted_behind_head({one_posture}, course, {});
    REQUIRE(parts.size() == 3);
    CHECK(parts[1].bounds.start_s == doctest::Approx(3.5));
    CHECK(parts[1].bounds.end_s == doctest::Approx(6.5));
}

TEST_CASE("hands in the hair that hardly move are still told from hands that rest") {
    const auto course = course_of({Stance{0.0005}, Stance{0.005}, Stance{0.005}});
    REQUIRE(*hands_speed(course, {3.5, 6.5}) < 0.024);
    CHECK(parted_behind_head({one_posture}, course, {}).size() == 2);
}

TEST_CASE("a small step together with a shift of the weight is another pose") {
    const auto course = course_of({Stance{0, 0.03, 0.018}, Stance{0, 0.017, 0}, Stance{0, 0.017, 0}});
    const auto parts = parted_behind_head({one_posture}, course, {});
    REQUIRE(parts.size() == 2);
    CHECK(parts[0].bounds.end_s == doctest::Approx(3));
}

TEST_CASE("a wobble that comes back to the same stance parts nothing") {
    const auto course =
        course_of({Stance{0.0005, 0.03, 0.018}, Stance{0.0006, 0.03, 0.014}, Stance{0.0005, 0.03, 0.018}});
    CHECK(parted_behind_head({one_posture}, course, {}).size() == 1);
}

TEST_CASE("with the hands down nothing is parted here") {
    auto course = course_of({Stance{0, 0.03, 0.018}, Stance{0, 0, 0}, Stance{0, 0, 0}});
    for (auto& frame : course.frames)
        for (const body::Joint wrist : {body::Joint::left_wrist, body::Joint::right_wrist})
            frame.points[static_cast<std::size_t>(wrist)].y += 0.4 * height_px;
    CHECK(parted_behind_head({one_posture}, course, {}).size() == 1);
}
