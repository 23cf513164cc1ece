#include "posing/twist.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

body::BandMotion turning(double amplitude_deg, int features = 40) {
    body::BandMotion out;
    out.features = features;
    for (int i = 0; i < 90; ++i)
        out.pictures.push_back({amplitude_deg * std::sin(2 * std::numbers::pi * 0.4 * i / 15), 0.5, features});
    return out;
}

TwistEvidence seen_from(double facing_deg, double chest_deg, double pelvis_deg) {
    TwistEvidence out;
    out.chest = turning(chest_deg);
    out.pelvis = turning(pelvis_deg);
    out.shoulder_separation.assign(90, 0.1);
    out.facing_deg = facing_deg;
    return out;
}

}  // namespace

TEST_CASE("twist is the chest's turn minus the pelvis's") {
    const auto found = twist_of(seen_from(0, 7, 1));
    CHECK(*found.twist.rms.value == doctest::Approx(6 / std::numbers::sqrt2).epsilon(0.02));
    CHECK(*found.twist.range.value == doctest::Approx(12).epsilon(0.02));
    CHECK_FALSE(found.twist.absolute.value);
    CHECK(found.change_deg.size() == 90);
}

TEST_CASE("only a side view shows the absolute twist") {
    CHECK(*profile_twist(0.1, 85) == doctest::Approx(-std::asin(0.1) * 180 / std::numbers::pi));
    CHECK(*profile_twist(0.1, -85) == doctest::Approx(std::asin(0.1) * 180 / std::numbers::pi));
    CHECK_FALSE(profile_twist(0.1, 180));
    CHECK(twist_of(seen_from(90, 7, 0)).twist.absolute.value);
}

TEST_CASE("an arm that swings before the hips in profile is no turn of the trunk") {
    CHECK(twist_of(seen_from(90, 5, 6)).twist.rms.value);
}

TEST_CASE("where an arm hides the hips in profile the nearer hip joint tells whether they turn too") {
    TwistEvidence seen = seen_from(-90, 5, 6);
    const auto hip_turning = [&](double share) {
        seen.near_hip.clear();
        for (const auto& at : seen.chest.pictures)
            seen.near_hip.emplace_back(3 - 0.24 * share * *at.turn_deg * std::numbers::pi / 180);
    };
    hip_turning(0.8);
    CHECK_FALSE(twist_of(seen).twist.rms.value);
    CHECK(twist_of(seen).twist.rms.reason.find("hides the hips") != std::string::npos);
    // A joint is known to about a degree of the pelvis' turn from one picture to the next.
    for (std::size_t i = 0; i < seen.near_hip.size(); ++i)
        *seen.near_hip[i] += 0.24 * 3.2 * std::sin(2.2 * static_cast<double>(i)) * std::numbers::pi / 180;
    CHECK_FALSE(twist_of(seen).twist.rms.value);
    hip_turning(0.1);
    CHECK(twist_of(seen).twist.rms.value);
    // Where the hips are seen to be still the joint, which the network draws along, has no say.
    seen.pelvis = turning(0.3);
    hip_turning(0.8);
    CHECK(twist_of(seen).twist.rms.value);
}

TEST_CASE("what cannot be measured is absent with a reason") {
    TwistEvidence seen = seen_from(0, 7, 0);
    SUBCASE("the whole trunk turns") {
        seen.pelvis = turning(6);
    }
    SUBCASE("smooth hips show a part of the trunk's turn") {
        seen.pelvis = turning(2);
    }
    SUBCASE("in profile the hips go along") {
        seen = seen_from(-90, 7, 3);
    }
    SUBCASE("a chest without details") {
        seen.chest = turning(7, 5);
    }
    SUBCASE("a film compressed to mush") {
        seen.bits_per_pixel = 0.005;
    }
    SUBCASE("no outline") {
        for (auto& at : seen.chest.pictures) at.shift_px.reset();
    }
    SUBCASE("nothing moves more than can be measured") {
        seen.chest = turning(0.8);
    }
    SUBCASE("the facing is not known") {
        seen.facing_deg.reset();
    }
    const auto found = twist_of(seen);
    CHECK_FALSE(found.twist.rms.value);
    CHECK_FALSE(found.twist.range.value);
    CHECK_FALSE(found.twist.rms.reason.empty());
}
