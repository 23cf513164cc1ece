// Feet that the network loses for a moment, in courses whose feet are known.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "posing/foot_places.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

constexpr double height = 400;

/// The left foot steps 250 pixels across between 1.0 and 1.45 s.
double true_x(double t) {
    const double u = std::clamp((t - 1.0) / 0.45, 0.0, 1.0);
    return 100 + 250 * u * u * u * (10 - 15 * u + 6 * u * u);
}

body::BodyCourse stepping() {
    body::BodyCourse course;
    course.height_px = height;
    for (int i = 0; i < 40; ++i) {
        body::CourseFrame& frame = course.frames.emplace_back();
        frame.t_s = i / 15.0;
        frame.present = true;
        frame.height_px = height;
        for (const body::Joint mark : {body::Joint::left_ankle, body::Joint::left_heel, body::Joint::left_foot_tip})
            frame.points[static_cast<std::size_t>(mark)] = {true_x(frame.t_s), 600, 0.9};
    }
    return course;
}

void move_foot(body::CourseFrame& frame, double x, double y, double seen) {
    for (const body::Joint mark : {body::Joint::left_ankle, body::Joint::left_heel, body::Joint::left_foot_tip}) {
        auto& point = frame.points[static_cast<std::size_t>(mark)];
        point = {point.x + x, point.y + y, seen};
    }
}

double most_off(const std::vector<FootPlace>& places) {
    double most = 0;
    for (const FootPlace& place : places)
        most = std::max(most, std::hypot(place.middle().x - true_x(place.t_s), place.middle().y - 600));
    return most / height;
}

}  // namespace

TEST_CASE("the fastest step is left as it was seen") {
    const auto places = foot_places(stepping(), Foot::left);
    REQUIRE(places.size() == 40);
    CHECK(most_off(places) < 1e-9);
}

TEST_CASE("a picture in which the foot is guessed up the leg gets what lies between its neighbours") {
    body::BodyCourse course = stepping();
    move_foot(course.frames[18], 0, -110, 0.14);
    const auto places = foot_places(course, Foot::left);
    CHECK(most_off(places) < 0.03);
    CHECK(places[18].seen == doctest::Approx(0.9));
}

TEST_CASE("a foot that jumps to the other for one picture is put back") {
    body::BodyCourse course = stepping();
    move_foot(course.frames[19], -100, -20, 0.9);
    CHECK(most_off(foot_places(course, Foot::left)) < 0.03);
}

TEST_CASE("a foot that is hidden for longer stays unseen") {
    body::BodyCourse course = stepping();
    for (std::size_t i = 14; i < 22; ++i) move_foot(course.frames[i], 0, -110, 0.14);
    const auto places = foot_places(course, Foot::left);
    CHECK(places[17].seen == doctest::Approx(0.14));
}

TEST_CASE("a picture with nobody in it has no place") {
    body::BodyCourse course = stepping();
    course.frames[5].present = false;
    CHECK(foot_places(course, Foot::left).size() == 39);
}
