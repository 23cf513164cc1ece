#include "body/surface_motion.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

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

TEST_CASE("on smooth skin a furrow tells the turn, not the shading that stays or a level strap") {
    std::vector<TorsoPicture> pictures;
    double true_squares = 0, found_squares = 0;
    std::vector<double> truth;
    for (int i = 0; i < 45; ++i) {
        truth.push_back(6 * std::sin(2 * std::numbers::pi * i / 30));
        pictures.push_back(trunk_picture({truth.back(), 0, 0, 180, true}));
    }
    const auto chest = chest_of(pictures, 180);
    for (std::size_t i = 0; i < truth.size(); ++i) {
        REQUIRE(chest.pictures[i].turn_deg);
        true_squares += truth[i] * truth[i];
        found_squares += *chest.pictures[i].turn_deg * *chest.pictures[i].turn_deg;
    }
    const double share = std::sqrt(found_squares / true_squares);
    CHECK(share > 0.7);
    CHECK(share < 1.25);
}

TEST_CASE("an outline that sticks to a pattern of the wall beside the shoulder blades is not believed") {
    for (const double yaw : {90.0, -90.0}) {
        auto pictures = moving_trunk(0, 0, 6, yaw);
        for (std::size_t i = 0; i < pictures.size(); ++i) {
            auto& edges = pictures[i].edges;
            const double moved = pictures[i].shoulders().x - pictures[0].shoulders().x;
            for (std::size_t row = 0; row < edges.rows.size(); ++row) {
                const double below = edges.first_y + 2 * static_cast<double>(row) - pictures[i].left_shoulder.y;
                const bool patterned = below > 0.12 * trunk_shoulder_width_px && below < 0.46 * trunk_shoulder_width_px;
                // It goes along by a third and jumps from one line of the pattern to the next.
                if (patterned) *edges.rows[row].left -= static_cast<float>(0.7 * moved + (i % 4 < 2 ? 2.5 : -2.5));
            }
        }
        CHECK(worst_error(chest_of(pictures, yaw), 0, 1) < 1.5);
    }
}

TEST_CASE("the shake of a hand is no turn, and the outline shows all of it") {
    std::vector<TorsoPicture> pictures;
    std::vector<double> shake;
    for (int i = 0; i < 30; ++i) {
        shake.push_back(3 * std::sin(2.5 * i) - 2 * std::cos(1.9 * i));
        pictures.push_back(trunk_picture({0, 0, shake.back(), 0}));
    }
    const auto chest = chest_of(pictures, 0), pelvis = pelvis_of(pictures, 0);
    CHECK(worst_error(chest, 0, 1) < 0.4);
    CHECK(worst_error(pelvis, 0, 1) < 0.4);
    for (std::size_t i = 0; i < shake.size(); ++i) {
        REQUIRE(pelvis.pictures[i].shift_px);
        CHECK(std::abs(*pelvis.pictures[i].shift_px - (shake[i] - shake[0])) < 0.05);
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
