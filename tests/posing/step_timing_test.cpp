// A step's middle against steps whose middle is known. The foot here moves by a raised cosine, not by the movement of
// least jerk that the fit assumes.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "posing/step_timing.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

struct Step {
    double middle_s, length_s;
    double across, down, lift;  ///< pixels of a body 500 tall
};

/// A standing body, its left foot stepping, looked at `rate` times a second.
body::BodyCourse course_with(const Step& step, double rate, double first_s) {
    body::BodyCourse course;
    course.height_px = 500;
    for (double t = first_s; t < 4; t += 1 / rate) {
        body::CourseFrame frame;
        frame.t_s = t;
        frame.present = true;
        frame.height_px = 500;
        const double u = std::clamp((t - step.middle_s) / step.length_s + 0.5, 0.0, 1.0);
        const double done = (1 - std::cos(std::numbers::pi * u)) / 2, up = std::pow(std::sin(std::numbers::pi * u), 2);
        for (const body::Joint joint : {body::Joint::left_ankle, body::Joint::left_heel, body::Joint::left_foot_tip})
            frame.points[static_cast<std::size_t>(joint)] = {200 + step.across * done,
                                                             600 + step.down * done - step.lift * up, 1};
        course.frames.push_back(frame);
    }
    return course;
}

}  // namespace

TEST_CASE("the middle of a step is told to a hundredth of a second from pictures a fifteenth apart") {
    for (const double offset : {0.0, 0.02, 0.05}) {
        CAPTURE(offset);
        const Step across{2.0, 0.5, 120, 0, 10};
        const auto middle = step_middle(course_with(across, 15, offset), Foot::left, 2.06);
        REQUIRE(middle);
        CHECK(*middle == doctest::Approx(2.0).epsilon(0.005));
    }
}

TEST_CASE("the lift makes a step towards the phone no later and one away from it no earlier") {
    for (const double down : {25.0, -25.0}) {
        CAPTURE(down);
        const Step step{2.0, 0.46, 3, down, 14};
        const auto middle = step_middle(course_with(step, 15, 0.03), Foot::left, 2.0 + 0.002 * down);
        REQUIRE(middle);
        CHECK(std::abs(*middle - 2.0) < 0.022);  // a third of the way between two pictures
    }
}

TEST_CASE("a step that is hardly looked at has no middle") {
    CHECK_FALSE(step_middle(course_with({2.0, 0.5, 120, 0, 10}, 3, 0), Foot::left, 2.0));
    CHECK_FALSE(step_middle({}, Foot::left, 2.0));
}
