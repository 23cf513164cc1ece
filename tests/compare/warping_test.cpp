#include "compare/warping.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>

using namespace quarterturn::compare;

namespace {

double cost(const std::vector<int>& a, const std::vector<int>& b, StepWeights weights) {
    const auto warping =
        warp(a.size(), b.size(), [&](std::size_t i, std::size_t j) { return std::abs(a[i] - b[j]); }, {weights});
    REQUIRE(warping);
    return warping->cost;
}

const std::vector<int> a{1, 3, 4, 9, 8, 2, 1, 5, 7, 3}, b{1, 6, 2, 3, 0, 9, 4, 3, 6, 3};

}  // namespace

// The step patterns are those of Sakoe and Chiba, "Dynamic programming algorithm optimization for spoken word
// recognition", IEEE ASSP 26:43 (1978). The costs were computed apart from this code, by dynamic programming and by
// going through every path.
TEST_CASE("costs of small sequences with plain and symmetric steps") {
    CHECK(cost(a, b, StepWeights::plain) == 15);
    CHECK(cost(a, b, StepWeights::symmetric) == 22);
    const std::vector<int> c{1, 2, 3, 5, 5, 6}, d{1, 1, 2, 2, 3, 5};
    CHECK(cost(c, d, StepWeights::plain) == 1);
    CHECK(cost(c, d, StepWeights::symmetric) == 1);
    CHECK(cost({0, 0, 1, 2, 1, 0, 0}, {0, 1, 2, 2, 1, 0}, StepWeights::symmetric) == 0);
}

TEST_CASE("nothing cannot be warped, and one sample lies over all of the other") {
    const auto zero = [](std::size_t, std::size_t) { return 0.0; };
    CHECK_FALSE(warp(0, 3, zero));
    CHECK_FALSE(warp(3, 0, zero));
    CHECK(warp(1, 3, zero)->path.size() == 3);
}

TEST_CASE("a path starts and ends in the corners, steps by one and keeps to its band") {
    rc::check([](const std::vector<std::uint8_t>& x, const std::vector<std::uint8_t>& y, std::uint8_t width) {
        RC_PRE(!x.empty() && !y.empty());
        WarpSettings settings;
        settings.band = width % 16;
        const auto found = warp(
            x.size(), y.size(), [&](std::size_t i, std::size_t j) { return std::abs(x[i] - y[j]); }, settings);
        RC_ASSERT(found.has_value());
        RC_ASSERT(std::isfinite(found->cost));
        RC_ASSERT(found->path.front() == std::pair(std::size_t{0}, std::size_t{0}));
        RC_ASSERT(found->path.back() == std::pair(x.size() - 1, y.size() - 1));
        for (std::size_t k = 1; k < found->path.size(); ++k) {
            const auto di = found->path[k].first - found->path[k - 1].first;
            const auto dj = found->path[k].second - found->path[k - 1].second;
            RC_ASSERT(di <= 1 && dj <= 1 && di + dj >= 1);
        }
    });
}
