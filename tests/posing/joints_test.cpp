#include "posing/joints.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace quarterturn::posing;

namespace {

/// A standing body: every joint somewhere else, in body heights.
Posture standing() {
    Posture posture;
    for (std::size_t i = 0; i < main_joint_count; ++i)
        posture[i] = JointPosition{i % 2 == 0 ? 0.1 : -0.1, 0.82 - 0.12 * static_cast<double>(i / 2), 0};
    return posture;
}

constexpr auto wrist = static_cast<std::size_t>(Joint::left_wrist);

/// Minimum-jerk path from 0 to 1 (Flash and Hogan 1985): 10 s^3 - 15 s^4 + 6 s^5.
double minimum_jerk(double s) {
    s = std::fmin(std::fmax(s, 0), 1);
    return s * s * s * (10 + s * (6 * s - 15));
}

template <class Change>
JointSeries filmed(double length_s, Change change, double rate = 30) {
    JointSeries series;
    for (int i = 0; i / rate <= length_s; ++i) {
        Posture posture = standing();
        change(i / rate, posture);
        series.t_s.push_back(i / rate);
        series.postures.push_back(posture);
    }
    return series;
}

}  // namespace

TEST_CASE("a joint moving evenly has that speed, whatever the spacing of the pictures") {
    JointSeries series = filmed(4, [](double t, Posture& p) { p[wrist]->x += 0.3 * t; });
    for (std::size_t i = 50; i > 30; i -= 3) {
        series.t_s.erase(series.t_s.begin() + static_cast<std::ptrdiff_t>(i));
        series.postures.erase(series.postures.begin() + static_cast<std::ptrdiff_t>(i));
    }
    for (const auto& speed : fastest_joint_speed(series).speed) CHECK(speed.value() == doctest::Approx(0.3));
}

TEST_CASE("a raised arm ends one hold and begins the next at the speed limit") {
    const JointSeries series =
        filmed(8, [](double t, Posture& p) { p[wrist]->y += 0.3 * minimum_jerk((t - 3) / 1.5); });
    const auto holds = find_still_stretches(series);
    REQUIRE(holds.size() == 2);
    // 0.3/1.5 * 30 s^2 (1-s)^2 = 0.08 at s = 0.1319; smoothing widens it a little.
    CHECK(holds[0].bounds.end_s == doctest::Approx(3 + 1.5 * 0.1319).epsilon(0.01));
    CHECK(holds[1].bounds.start_s == doctest::Approx(4.5 - 1.5 * 0.1319).epsilon(0.01));
}

TEST_CASE("a hand that fidgets and comes back stays within the hold") {
    const JointSeries series = filmed(8, [](double t, Posture& p) {
        if (t > 3 && t < 4) p[wrist]->y += 0.05 * std::pow(std::sin(M_PI * (t - 3)), 2);
    });
    const auto holds = find_still_stretches(series);
    REQUIRE(holds.size() == 1);
    CHECK(holds[0].bounds.duration_s() == doctest::Approx(8).epsilon(0.01));
    CHECK_FALSE(holds[0].returned.empty());
}

TEST_CASE("swaying with the whole body is not another posture") {
    const JointSeries series = filmed(12, [](double t, Posture& p) {
        for (auto& joint : p)
            if (joint) joint->x += 0.03 * std::sin(2 * M_PI * 0.6 * t);
    });
    CHECK(find_still_stretches(series).size() == 1);
}

TEST_CASE("turning on the spot is another posture even where the joints look alike") {
    JointSeries series = filmed(8, [](double t, Posture& p) {
        if (t > 3 && t < 5) p[wrist]->y += 0.1 * std::pow(std::sin(M_PI * (t - 3) / 2), 2);
    });
    CHECK(find_still_stretches(series).size() == 1);
    for (const double t : series.t_s) series.facing_deg.emplace_back(t < 4 ? 0 : 180);
    CHECK(find_still_stretches(series).size() == 2);
}

TEST_CASE("with most joints out of the picture nothing is measured") {
    const JointSeries series = filmed(4, [](double t, Posture& p) {
        for (std::size_t i = 0; i < 8 && t > 2; ++i) p[i].reset();
    });
    const SpeedSeries speed = fastest_joint_speed(series);
    CHECK(speed.speed.front().has_value());
    CHECK_FALSE(speed.speed.back().has_value());
    CHECK_FALSE(posture_distance(series.postures.front(), series.postures.back()).has_value());
}

TEST_CASE("the posture distance is the part that moved against the others") {
    Posture moved = standing();
    for (auto& joint : moved)
        if (joint) joint->x += 0.2;
    moved[wrist]->y += 0.05;
    // Its own movement less the mean one, to which it adds a twelfth.
    CHECK(posture_distance(standing(), moved).value() == doctest::Approx(0.05 * 11 / 12));
}
