#include "body/hip_edges.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace quarterturn::body;

namespace {

constexpr double shoulder_y = 100, hip_y = 200, width = 80;

/// A body 60 wide in every row that stands `aside` to the right; a forearm makes its right edge up to `forearm_x`.
TorsoPicture profile_picture(double aside, double forearm_x) {
    TorsoPicture out;
    out.left_shoulder = out.right_shoulder = {200 + aside, shoulder_y};
    out.left_hip = out.right_hip = {200 + aside, hip_y};
    out.edges.first_y = 80;
    out.edges.spacing = 2;
    for (double y = 80; y <= 270; y += 2) {
        const double right = y < 215 ? std::max(230 + aside, forearm_x) : 230 + aside;
        out.edges.rows.push_back({static_cast<float>(170 + aside), static_cast<float>(right)});
    }
    return out;
}

Forearms with_left_at(double x) {
    const Forearm far{{500, 100}, {500, 150}, {500, 160}};
    return {{{x, 150}, {x, 205}, {x, 212}}, far};
}

}  // namespace

TEST_CASE("a forearm that swings before the hips is not sway") {
    std::vector<TorsoPicture> pictures;
    std::vector<Forearms> arms;
    for (const double x : {240.0, 246.0, 252.0, 243.0}) {
        pictures.push_back(profile_picture(0, x));
        arms.push_back(with_left_at(x - 4));
    }
    const KeptPosture posture{pictures, 0, width, 90, false, arms};
    for (const auto& shift : hip_shifts(posture)) {
        REQUIRE(shift);
        CHECK(std::abs(*shift) < 0.1);
    }
}

TEST_CASE("a body that sways in profile is followed beside a forearm") {
    std::vector<TorsoPicture> pictures;
    std::vector<Forearms> arms;
    for (const double aside : {0.0, 5.0, -5.0}) {
        pictures.push_back(profile_picture(aside, 240));
        arms.push_back(with_left_at(236));
    }
    const auto shifts = hip_shifts({pictures, 0, width, -90, false, arms});
    REQUIRE(shifts[1]);
    REQUIRE(shifts[2]);
    // these pictures move as a whole, so what lies below the hips counts a little too much
    CHECK(*shifts[1] == doctest::Approx(5).epsilon(0.2));
    CHECK(*shifts[2] == doctest::Approx(-5).epsilon(0.2));
}

TEST_CASE("an arm that makes an edge jump as it passes is not sway, and what stays free tells the sway") {
    // The hand reaches further down than its landmarks say: most of the front edge jumps forwards by up to 7 pixels as
    // it passes, first of all in the reference picture, in which the other arm hides the edge behind.
    std::vector<TorsoPicture> pictures;
    std::vector<Forearms> arms;
    std::vector<double> truth;
    for (int i = 0; i < 60; ++i) {
        const double swing = std::cos(0.35 * i);
        truth.push_back(1.5 * std::sin(0.2 * i));
        TorsoPicture picture = profile_picture(truth.back(), 0);
        for (std::size_t row = 0; row < picture.edges.rows.size(); ++row) {
            const double y = picture.edges.first_y + 2 * static_cast<double>(row);
            if (y < 230 && swing > 0) *picture.edges.rows[row].right += static_cast<float>(7 * swing);
        }
        pictures.push_back(picture);
        const double behind = swing > 0.8 ? 171 + truth.back() : 500;
        const Forearm hand{{500, 150}, {500, 160}, {500, 170}};
        arms.push_back({hand, {{behind, 150}, {behind, 205}, {behind, 260}}});
    }
    const auto shifts = hip_shifts({pictures, 0, width, 90, false, arms});
    double squares = 0;
    for (std::size_t i = 0; i < truth.size(); ++i) {
        REQUIRE(shifts[i]);
        squares += std::pow(*shifts[i] - (truth[i] - truth[0]), 2);
    }
    // these pictures move as a whole, so what lies below the hips counts up to a fifth too much
    CHECK(std::sqrt(squares / static_cast<double>(truth.size())) < 0.6);
}

TEST_CASE("an outline that is covered by arms everywhere shows no sway") {
    TorsoPicture picture = profile_picture(0, 240);
    Forearms arms = with_left_at(230);
    arms.left.finger = {230, 260};
    arms.right = {{170, 150}, {170, 205}, {170, 260}};
    const std::vector<TorsoPicture> pictures{picture, picture};
    const std::vector<Forearms> both{arms, arms};
    CHECK_FALSE(hip_shifts({pictures, 0, width, 90, false, both})[1]);
}
