#include "posing/still_stretches.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

using namespace quarterturn::posing;

namespace {

/// 30 samples a second of a speed given by a function of time.
template <class Speed>
SpeedSeries sampled(double length_s, Speed speed) {
    SpeedSeries series;
    for (int i = 0; i / 30.0 <= length_s; ++i) {
        series.t_s.push_back(i / 30.0);
        series.speed.push_back(speed(i / 30.0));
    }
    return series;
}

/// A smooth bump of the given height between two times.
double bump(double t, double from, double to, double height) {
    if (t <= from || t >= to) return 0;
    const double s = std::sin(M_PI * (t - from) / (to - from));
    return height * s * s;
}

const PostureDistance always_another = [](const Stretch&, const Stretch&) { return 0.2; };
const PostureDistance always_same = [](const Stretch&, const Stretch&) { return 0.01; };

}  // namespace

TEST_CASE("a movement to another posture parts two holds, bounds at the crossing of the speed limit") {
    const SpeedSeries speed = sampled(10, [](double t) { return bump(t, 4, 6, 0.32); });
    const auto holds = find_still_stretches(speed, always_another);
    REQUIRE(holds.size() == 2);
    // 0.32 sin^2 reaches 0.08 at a sixth of the bump.
    CHECK(holds[0].bounds.end_s == doctest::Approx(4 + 2.0 / 6).epsilon(0.002));
    CHECK(holds[1].bounds.start_s == doctest::Approx(6 - 2.0 / 6).epsilon(0.002));
}

TEST_CASE("a movement that returns to the same posture stays within the hold") {
    const SpeedSeries speed = sampled(10, [](double t) { return bump(t, 4, 6, 0.32); });
    const auto holds = find_still_stretches(speed, always_same);
    REQUIRE(holds.size() == 1);
    CHECK(holds[0].bounds.duration_s() == doctest::Approx(10));
    CHECK(holds[0].returned.size() == 1);
}

TEST_CASE("a movement too short to change the posture parts no hold, wherever slow sway carries the rests") {
    // 0.1 for a fifth of a second goes 0.01; another posture needs 0.03.
    const SpeedSeries barely = sampled(10, [](double t) { return 0.05 + bump(t, 4.9, 5.2, 0.05); });
    CHECK(find_still_stretches(barely, always_another).size() == 1);
    const SpeedSeries clearly = sampled(10, [](double t) { return 0.05 + bump(t, 4.5, 5.6, 0.15); });
    CHECK(find_still_stretches(clearly, always_another).size() == 2);
}

TEST_CASE("swinging to and fro is one hold although its two ends are different postures") {
    // Rests at the ends of a swing are short; each differs from the next but equals the one after it.
    const SpeedSeries speed = sampled(10, [](double t) { return 0.12 * std::abs(std::sin(M_PI * t)); });
    const PostureDistance ends = [](const Stretch& a, const Stretch& b) {
        const auto side = [](const Stretch& s) { return std::lround((s.start_s + s.end_s) / 2) % 2; };
        return side(a) == side(b) ? 0.01 : 0.05;
    };
    const auto holds = find_still_stretches(speed, ends);
    REQUIRE(holds.size() == 1);
    CHECK(holds[0].bounds.duration_s() > 9);
}

TEST_CASE("a swing that was slow until its last stroke is one hold") {
    // 0.07 across and back in four seconds, too slow for a movement; the last stroke is just fast enough for one, and
    // the rest after it is where the swing has been before.
    const auto place = [](double t) { return 0.035 * std::sin(M_PI * t / 2); };
    const SpeedSeries speed = sampled(10.6, [](double t) {
        return t < 7.5 ? 0.055 * std::abs(std::cos(M_PI * t / 2)) : bump(t, 7.5, 8.9, 0.12) + bump(t, 10, 10.6, 0.5);
    });
    const PostureDistance distance = [&](const Stretch& a, const Stretch& b) {
        const auto at = [&](const Stretch& s) { return s.start_s > 8 ? place(9) : place((s.start_s + s.end_s) / 2); };
        return std::abs(at(a) - at(b));
    };
    const auto holds = find_still_stretches(speed, distance);
    REQUIRE(holds.size() == 1);
    CHECK(holds[0].bounds.end_s > 10);
}

TEST_CASE("a last swing that runs into the way to the next pose belongs to the hold up to the dip between") {
    // The dip at 5.0 s stays above 75 % of the limit.
    const auto swung_into_a_turn = [](double t) {
        return t < 4 ? 0.01 : t < 5.1 ? std::max(0.07, 0.1 * std::sin(M_PI * (t - 4))) : 0.07 + bump(t, 5.1, 7, 0.5);
    };
    const SpeedSeries speed = sampled(7, swung_into_a_turn);
    const auto end_with = [&](double in_the_dip) {
        const PostureDistance distance = [=](const Stretch&, const Stretch& after) {
            return after.start_s < 5.5 ? in_the_dip : 0.2;
        };
        const auto holds = find_still_stretches(speed, distance);
        REQUIRE(holds.size() == 1);
        return holds[0].bounds.end_s;
    };
    CHECK(end_with(0.005) > 5.0);  // the posture is back
    CHECK(end_with(0.02) < 4.4);   // it is not: the movement has begun with the swing
}

TEST_CASE("walking off and back to the same posture parts two holds") {
    const SpeedSeries speed = sampled(16, [](double t) { return t > 4 && t < 11 ? 0.5 : 0.0; });
    const PostureDistance away = [](const Stretch&, const Stretch& b) {
        return b.start_s > 4.2 && b.end_s < 10.8 ? 0.4 : 0.0;
    };
    CHECK(find_still_stretches(speed, away).size() == 2);
}

TEST_CASE("a rest shorter than the minimum is no hold") {
    const SpeedSeries speed = sampled(10, [](double t) { return t < 4 || (t > 4.9 && t < 6) ? 0.3 : 0.0; });
    const auto holds = find_still_stretches(speed, always_another);
    REQUIRE(holds.size() == 1);
    CHECK(holds[0].bounds.start_s == doctest::Approx(6).epsilon(0.01));
}

TEST_CASE("a dip within a movement does not lengthen the hold before it") {
    // Twice over the limit with a dip to 90 % of it: one movement.
    const SpeedSeries speed = sampled(10, [](double t) {
        return std::max({bump(t, 4, 5, 0.2), bump(t, 4.6, 5.6, 0.2), t > 4.4 && t < 5.2 ? 0.072 : 0.0});
    });
    const auto holds = find_still_stretches(speed, always_another);
    CHECK(holds.size() == 2);
}

TEST_CASE("where nobody can be measured there is no hold") {
    SpeedSeries speed = sampled(10, [](double) { return 0.0; });
    for (std::size_t i = 0; i < speed.t_s.size(); ++i)
        if (speed.t_s[i] > 3 && speed.t_s[i] < 8) speed.speed[i].reset();
    const auto holds = find_still_stretches(speed, always_same);
    REQUIRE(holds.size() == 2);
    CHECK(holds[0].bounds.end_s <= 3);
    CHECK(holds[1].bounds.start_s >= 8);
    CHECK(find_still_stretches({}, always_same).empty());
}

TEST_CASE("stretches are ordered, long enough, apart, and the same wherever the clock starts") {
    CHECK(rc::check([](const std::vector<std::uint8_t>& levels, const std::vector<bool>& same, std::uint8_t offset) {
        SpeedSeries speed;
        for (std::size_t i = 0; i < levels.size() * 8; ++i) {
            speed.t_s.push_back(static_cast<double>(i) / 16);
            speed.speed.push_back(levels[i / 8] > 250 ? std::nullopt : std::optional(levels[i / 8] / 1000.0));
        }
        const PostureDistance distance = [&](const Stretch& a, const Stretch& b) {
            const auto key = static_cast<std::size_t>(std::lround(8 * (b.start_s - a.end_s)));
            return !same.empty() && same[key % same.size()] ? 0.0 : 0.5;
        };
        const auto holds = find_still_stretches(speed, distance);
        for (std::size_t i = 0; i < holds.size(); ++i) {
            const Stretch& bounds = holds[i].bounds;
            RC_ASSERT(bounds.duration_s() >= 1.0);
            const bool apart = i == 0 || bounds.start_s > holds[i - 1].bounds.end_s;
            RC_ASSERT(apart);
            for (const Stretch& movement : holds[i].returned) {
                RC_ASSERT(movement.start_s >= bounds.start_s);
                RC_ASSERT(movement.end_s <= bounds.end_s);
            }
        }
        SpeedSeries later = speed;
        for (double& t : later.t_s) t += offset;
        const auto moved = find_still_stretches(later, distance);
        RC_ASSERT(moved.size() == holds.size());
        for (std::size_t i = 0; i < holds.size(); ++i)
            RC_ASSERT(std::abs(moved[i].bounds.start_s - offset - holds[i].bounds.start_s) < 1e-9);
    }));
}
