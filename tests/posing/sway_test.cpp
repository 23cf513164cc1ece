#include "posing/sway.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

using namespace quarterturn::posing;

namespace {

struct Swaying {
    std::vector<double> t_s;
    std::vector<std::optional<double>> sideways;
};

/// 10 s at 15 a second, unevenly spaced.
Swaying swaying(double amplitude, double hz) {
    Swaying out;
    for (int i = 0; i < 150; ++i) {
        out.t_s.push_back(i / 15.0 + 0.01 * std::sin(5.0 * i));
        out.sideways.emplace_back(40 + amplitude * std::sin(2 * std::numbers::pi * hz * out.t_s.back()));
    }
    return out;
}

}  // namespace

TEST_CASE("a sine's RMS, peak to peak and frequency come out") {
    auto seen = swaying(2, 0.4);
    for (std::size_t i = 20; i < 30; ++i) seen.sideways[i].reset();
    const Sway sway = sway_of(seen.t_s, seen.sideways);
    CHECK(*sway.rms.value == doctest::Approx(2 / std::numbers::sqrt2).epsilon(0.03));
    CHECK(*sway.peak_to_peak.value == doctest::Approx(4).epsilon(0.02));
    CHECK(*sway.dominant_hz.value == doctest::Approx(0.4).epsilon(0.03));
}

TEST_CASE("movement without a rhythm, or seen for less than two periods, has no frequency") {
    Swaying seen = swaying(0, 1);
    SUBCASE("scattered") {
        std::uint32_t state = 1;
        for (auto& value : seen.sideways) *value += (state = state * 1664525U + 1013904223U) / 4294967296.0;
    }
    SUBCASE("a slow drift") {
        seen.t_s.resize(40);
        seen.sideways.resize(40);
        for (std::size_t i = 0; i < 40; ++i) *seen.sideways[i] += seen.t_s[i];
    }
    const Sway sway = sway_of(seen.t_s, seen.sideways);
    CHECK_FALSE(sway.dominant_hz.value);
    CHECK_FALSE(sway.dominant_hz.reason.empty());
}

TEST_CASE("too few values give a reason instead of a number") {
    const std::vector<double> t_s{0, 1, 2};
    const std::vector<std::optional<double>> sideways{1.0, std::nullopt, 2.0};
    const Sway sway = sway_of(t_s, sideways);
    CHECK_FALSE(sway.rms.value);
    CHECK_FALSE(sway.rms.reason.empty());
}

TEST_CASE("a swing that is cut off is no drift, and a drift is found beneath a swing") {
    std::vector<double> t;
    std::vector<std::optional<double>> swing, both, line;
    for (int i = 0; i < 90; ++i) {
        t.push_back(i / 15.0);
        const double wave = std::sin(2 * std::numbers::pi * 0.35 * t.back());
        swing.emplace_back(wave);
        both.emplace_back(wave - 0.2 * t.back());
        line.emplace_back(0.2 * t.back());
    }
    CHECK(std::abs(*drift_of(t, swing).value) < 0.05);
    CHECK(*drift_of(t, both).value == doctest::Approx(-0.2 * t.back()).epsilon(0.05));
    CHECK(*drift_of(t, line).value == doctest::Approx(0.2 * t.back()).epsilon(0.01));
    CHECK_FALSE(drift_of(std::span(t).first(5), std::span(line).first(5)).value);
}

TEST_CASE("path speed is the way of the hips per second, and noise is little of it") {
    std::vector<double> t;
    std::vector<std::optional<double>> swing, noise;
    for (int i = 0; i < 150; ++i) {
        t.push_back(i / 15.0);
        swing.emplace_back(2 * std::sin(2 * std::numbers::pi * 0.4 * t.back()));
        noise.emplace_back(i % 2 == 0 ? 0.05 : -0.05);
    }
    // four amplitudes per period: 4 * 2 * 0.4 cm/s, less what five-picture means take off
    CHECK(*sway_of(t, swing).path_speed->value == doctest::Approx(3.2).epsilon(0.06));
    CHECK(*sway_of(t, noise).path_speed->value < 0.35);
}
