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

TEST_CASE("an outline that is covered by arms everywhere shows no sway") {
    TorsoPicture picture = profile_picture(0, 240);
    Forearms arms = with_left_at(230);
    arms.left.finger = {230, 260};
    arms.right = {{170, 150}, {170, 205}, {170, 260}};
    const std::vector<TorsoPicture> pictures{picture, picture};
    const std::vector<Forearms> both{arms, arms};
    CHECK_FALSE(hip_shifts({pictures, 0, width, 90, false, both})[1]);
}
