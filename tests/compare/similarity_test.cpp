#include "compare/similarity.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

using namespace quarterturn::compare;
using doctest::Approx;

TEST_CASE("the published example of least squares between point patterns comes out") {
    // Umeyama, "Least-squares estimation of transformation parameters between two point patterns", IEEE PAMI 13:376
    // (1991), section V: R = [.832 .555; -.555 .832], c = .721, t = (-.8, .4), e = 0.53.
    const std::vector<Point> x{{0, 0}, {1, 0}, {0, 2}}, y{{0, 0}, {-1, 0}, {0, 2}};
    const auto fit = fit_similarity(x, y);
    REQUIRE(fit);
    CHECK(fit->scale == Approx(0.72111026).epsilon(1e-7));
    CHECK(std::cos(fit->turn_rad) == Approx(0.83205029).epsilon(1e-7));
    CHECK(-std::sin(fit->turn_rad) == Approx(0.55470020).epsilon(1e-7));
    CHECK(fit->shift_x == Approx(-0.8));
    CHECK(fit->shift_y == Approx(0.4));
    CHECK(mean_squared_residual(*fit, x, y) == Approx(0.53333333).epsilon(1e-7));
}

TEST_CASE("a rectangle turned, scaled and shifted is found exactly") {
    const std::vector<Point> x{{0, 0}, {4, 0}, {4, 3}, {0, 3}};
    const std::vector<Point> y{{10, -5}, {16.92820323, -1}, {13.92820323, 4.19615242}, {7, 0.19615242}};
    const auto fit = fit_similarity(x, y);
    REQUIRE(fit);
    CHECK(fit->scale == Approx(2));
    CHECK(fit->turn_rad == Approx(std::numbers::pi / 6));
    CHECK(mean_squared_residual(*fit, x, y) < 1e-12);
}

TEST_CASE("points that coincide have no scale") {
    const std::vector<Point> x{{3, 3}, {3, 3}, {3, 3}};
    CHECK_FALSE(fit_similarity(x, x));
    CHECK_FALSE(fit_similarity(std::vector<Point>{{1, 1}}, std::vector<Point>{{1, 1}}));
}

TEST_CASE("a mirrored transform mirrors about the picture's middle first") {
    Similarity mirror;
    mirror.mirrored = true;
    mirror.mirror_width = 100;
    mirror.scale = 2;
    mirror.turn_rad = 0.3;
    mirror.shift_x = 5;
    Similarity plain = mirror;
    plain.mirrored = false;
    const Point a = mirror.apply({10, 20}), b = plain.apply({90, 20});
    CHECK(a.x == Approx(b.x));
    CHECK(a.y == Approx(b.y));
}

TEST_CASE("one bad landmark of six is left out and does not move the picture") {
    const std::vector<Point> before{{200, 300}, {150, 300}, {220, 150}, {130, 150}, {195, 520}, {155, 520}};
    Similarity truth{1.3, 0.05, 12, -30, false, 0};
    std::mt19937 random(5);
    std::normal_distribution<double> noise(0, 1);
    std::vector<Point> now;
    for (const Point& p : before) {
        const Point q = truth.apply(p);
        now.push_back({q.x + noise(random), q.y + noise(random)});
    }
    const std::vector<double> weights(6, 1);
    SUBCASE("without a bad one all six count") {
        const auto fit = fit_robustly(before, now, weights, 15);
        REQUIRE(fit);
        CHECK_FALSE(fit->left_out);
        CHECK(fit->transform.scale == Approx(1.3).epsilon(0.01));
    }
    SUBCASE("any of them may be the bad one") {
        for (std::size_t bad = 0; bad < 6; ++bad) {
            auto spoiled = now;
            spoiled[bad].x += 60;
            spoiled[bad].y -= 25;
            const auto fit = fit_robustly(before, spoiled, weights, 15);
            REQUIRE(fit);
            REQUIRE(fit->left_out);
            CHECK(*fit->left_out == bad);
            CHECK(fit->transform.scale == Approx(1.3).epsilon(0.015));
            CHECK(fit->transform.turn_rad == Approx(0.05).epsilon(0.2));
        }
    }
}
