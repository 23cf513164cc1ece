#include "body/region.hpp"

#include <doctest/doctest.h>

#include <numbers>

using namespace quarterturn::body;

TEST_CASE("an upright body's region is upright and a quarter wider than its reach") {
    const auto region = region_around({100, 200}, {100, 120});
    REQUIRE(region);
    CHECK(region->centre == Point{100, 200});
    CHECK(region->side == doctest::Approx(200));  // 2 x 80 x 1.25
    CHECK(region->angle_rad == doctest::Approx(0));
}

TEST_CASE("a body leaning to the right is turned clockwise") {
    const auto region = region_around({100, 200}, {180, 200});
    REQUIRE(region);
    CHECK(region->angle_rad == doctest::Approx(std::numbers::pi / 2));
    // Its "up" points right in the picture.
    const Point top = region->to_picture({0.5, 0});
    CHECK(top.x == doctest::Approx(200));
    CHECK(top.y == doctest::Approx(200));
}

TEST_CASE("places in the region and in the picture belong to each other") {
    const Region region{{320, 240}, 180, 0.7};
    for (const Point inside : {Point{0, 0}, Point{1, 0.25}, Point{0.3, 0.9}}) {
        const Point back = region.from_picture(region.to_picture(inside));
        CHECK(back.x == doctest::Approx(inside.x));
        CHECK(back.y == doctest::Approx(inside.y));
    }
}

TEST_CASE("points that coincide give no region") {
    CHECK_FALSE(region_around({5, 5}, {5, 5}));
}

TEST_CASE("the way between angles is the shorter one") {
    constexpr double pi = std::numbers::pi;
    CHECK(angle_between(0.9 * pi, -0.9 * pi) == doctest::Approx(0.2 * pi));
    CHECK(angle_between(-0.9 * pi, 0.9 * pi) == doctest::Approx(-0.2 * pi));
    CHECK(angle_between(0, pi) == doctest::Approx(pi));
    CHECK(angle_between(1, 1) == 0);
}
