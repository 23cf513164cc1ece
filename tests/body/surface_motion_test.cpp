#include "body/surface_motion.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "body/turn_fit.hpp"
#include "textured_trunk.hpp"

using namespace quarterturn::body;

namespace {

/// Pictures at 15 a second of a twist and a sway of their own rhythms.
std::vector<TorsoPicture> moving_trunk(double twist_deg, double pelvis_deg, double sway_px, double yaw_deg) {
    std::vector<TorsoPicture> out;
    for (int i = 0; i < 30; ++i) {
        const double phase = 2 * std::numbers::pi * i / 15;
        const double turn = pelvis_deg * std::sin(0.7 * phase);
        out.push_back(
            trunk_picture({twist_deg * std::sin(0.5 * phase) + turn, turn, sway_px * std::sin(0.4 * phase), yaw_deg}));
    }
    return out;
}

double worst_error(const BandMotion& motion, double amplitude_deg, double rhythm) {
    double worst = 0;
    for (std::size_t i = 0; i < motion.pictures.size(); ++i) {
        const double truth = amplitude_deg * std::sin(rhythm * 2 * std::numbers::pi * static_cast<double>(i) / 15);
        REQUIRE(motion.pictures[i].turn_deg);
        worst = std::max(worst, std::abs(*motion.pictures[i].turn_deg - truth));
    }
    return worst;
}

BandMotion chest_of(const std::vector<TorsoPicture>& pictures, double yaw_deg) {
    return chest_motion({pictures, 0, trunk_shoulder_width_px, yaw_deg, false, {}});
}

BandMotion pelvis_of(const std::vector<TorsoPicture>& pictures, double yaw_deg) {
    return pelvis_motion({pictures, 0, trunk_shoulder_width_px, yaw_deg, false, {}});
}

}  // namespace

TEST_CASE("a trunk's section is an ellipse whichever way it faces") {
    for (const double yaw : {0.0, 30.0, 90.0, -120.0}) {
        const auto section = TrunkSection::of(100, yaw);
        const double c = std::cos(section.yaw_rad), s = std::sin(section.yaw_rad);
        for (const double x : {-20.0, 0.0, 15.0}) {
            const auto z = section.nearer(x);
            REQUIRE(z);
            const double p = (x * c + *z * s) / 42, q = (-x * s + *z * c) / 32;
            CHECK(p * p + q * q == doctest::Approx(1));
        }
        CHECK_FALSE(section.nearer(1.001 * section.reach()));
    }
}

TEST_CASE("the fit gives back an exact turn beside shift, lean and size, and bears wrong points") {
    std::vector<SurfaceShift> moved;
    const auto section = TrunkSection::of(100, 0);
    const double psi = 0.11, phi = 0.02, size = 0.01, tx = 3, ty = -1, edge_y = -25;
    for (int i = 0; i < 60; ++i) {
        const double x = -30 + i, y = 20 * std::sin(7.0 * i), z = *section.nearer(x);
        moved.push_back(
            {x, y, z, tx - phi * y + size * x + z * std::sin(psi) + x * (std::cos(psi) - 1), ty + phi * x + size * y});
    }
    CHECK(*fit_turn(moved, tx - phi * edge_y, edge_y) == doctest::Approx(psi).epsilon(1e-6));
    for (std::size_t i = 0; i < 9; ++i) moved[6 * i].dx += 6;
    CHECK(std::abs(*fit_turn(moved, tx - phi * edge_y, edge_y) - psi) < 0.01);
    CHECK_FALSE(fit_turn({moved[0], moved[1]}, 0, 0));
}

TEST_CASE("the chest's turn is measured while the body sways") {
    for (const double yaw : {0.0, 30.0, 90.0, 180.0, -90.0}) {
        CAPTURE(yaw);
        const auto pictures = moving_trunk(8, 0, 5, yaw);
        // 5 % of the amplitude and the noise of following
        CHECK(worst_error(chest_of(pictures, yaw), 8, 0.5) < 0.7);
        // in profile a sway is taken to be over the feet, while these pictures move as a whole
        CHECK(worst_error(pelvis_of(pictures, yaw), 0, 1) < (std::abs(yaw) == 90 ? 1.0 : 0.7));
    }
}

TEST_CASE("sway alone is no turn") {
    CHECK(worst_error(chest_of(moving_trunk(0, 0, 8, 0), 0), 0, 1) < 0.3);
}

TEST_CASE("a turn of the pelvis is told from a turn of the chest") {
    const auto pictures = moving_trunk(0, 6, 0, 0);
    CHECK(worst_error(pelvis_of(pictures, 0), 6, 0.7) < 0.9);
    CHECK(worst_error(chest_of(pictures, 0), 6, 0.7) < 0.7);
}

TEST_CASE("in a mirrored film the same pictures mean the other turn") {
    const auto pictures = moving_trunk(8, 0, 0, 0);
    const auto mirrored = chest_motion({pictures, 0, trunk_shoulder_width_px, 0, true, {}});
    CHECK(worst_error(mirrored, -8, 0.5) < 0.7);
}

TEST_CASE("without an outline or without texture nothing is claimed") {
    auto pictures = moving_trunk(8, 0, 0, 0);
    SUBCASE("no outline") {
        for (auto& picture : pictures) picture.edges.rows.clear();
    }
    SUBCASE("no texture") {
        for (auto& picture : pictures) picture.grey = PackedGrey{cv::Mat(picture.grey.size(), CV_8U, cv::Scalar(128))};
    }
    for (const auto& at : chest_of(pictures, 0).pictures) CHECK_FALSE(at.turn_deg);
}
