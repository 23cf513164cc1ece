#include "journal/clip.hpp"

#include <doctest.h>

using namespace quarterturn;
using namespace quarterturn::journal;

TEST_CASE("who the athlete is stays on her body when the film is turned") {
    const AthleteShown shown{100, {1, 1000}, 0.1, 0.3};
    // A quarter counter-clockwise: the upper edge becomes the left one.
    const AthleteShown left = turned(shown, 0, 90);
    CHECK(left.x == doctest::Approx(0.3));
    CHECK(left.y == doctest::Approx(0.9));
    // Clockwise: the upper edge becomes the right one.
    const AthleteShown right = turned(shown, 0, -90);
    CHECK(right.x == doctest::Approx(0.7));
    CHECK(right.y == doctest::Approx(0.1));
    const AthleteShown half = turned(shown, -90, 90);
    CHECK(half.x == doctest::Approx(0.9));
    CHECK(half.y == doctest::Approx(0.7));
    CHECK(turned(shown, 180, 180) == shown);
    CHECK(left.pts == shown.pts);
}
