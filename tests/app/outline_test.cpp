#include <doctest.h>

#include <cmath>
#include <map>
#include <vector>

#include "app/outline_finder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

constexpr int side = 64;

// Positive inside a disc: the logit is how far inside, in cells.
std::vector<float> disc(double x, double y, double radius) {
    std::vector<float> mask;
    for (int row = 0; row < side; ++row)
        for (int column = 0; column < side; ++column)
            mask.push_back(static_cast<float>(radius - std::hypot(column + 0.5 - x, row + 0.5 - y)));
    return mask;
}

}  // namespace

TEST_CASE("the outline of a disc is a closed circle where the disc lies in the picture") {
    // The square of 128 pixels around (100, 200) in a picture of 400 x 800: one cell is two pixels.
    const body::Region region{{100, 200}, 128, 0};
    const auto pieces = mask_outline(disc(32, 32, 20), side, region, 400, 800);
    REQUIRE(pieces.size() > 100);
    std::map<std::pair<long, long>, int> ends;
    for (const auto& [a, b] : pieces)
        for (const Spot& spot : {a, b}) {
            // Between cells the distance is interpolated along straight lines: a fiftieth of a cell is generous.
            CHECK(std::hypot(spot.x * 400 - 100, spot.y * 800 - 200) == doctest::Approx(40).epsilon(0.002));
            ++ends[{std::lround(spot.x * 1e7), std::lround(spot.y * 1e7)}];
        }
    for (const auto& [place, count] : ends) CHECK(count == 2);
}

TEST_CASE("a turned square turns the outline with it") {
    const body::Region region{{100, 200}, 128, 1.5707963267948966};  // a quarter clockwise
    // A disc above the middle of the square lies to the right of it in the picture.
    const auto pieces = mask_outline(disc(32, 12, 6), side, region, 400, 800);
    REQUIRE_FALSE(pieces.empty());
    for (const auto& [a, b] : pieces) {
        CHECK(a.x * 400 > 100 + 2 * 13);
        CHECK(std::abs(a.y * 800 - 200) < 2 * 6.5);
    }
}

TEST_CASE("a mask without a person has no outline") {
    CHECK(mask_outline(std::vector<float>(side * side, -3.0F), side, {{50, 50}, 80, 0}, 100, 100).empty());
    CHECK(mask_outline({}, side, {{50, 50}, 80, 0}, 100, 100).empty());
}
