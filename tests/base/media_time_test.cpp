#include "base/media_time.hpp"

#include <doctest.h>
#include <rapidcheck.h>

using namespace quarterturn;

TEST_CASE("one second is one second in every time base") {
    CHECK(MediaTime{1, {1, 1}} == MediaTime{90000, {1, 90000}});
    CHECK(MediaTime{1, {1, 1}} < MediaTime{90001, {1, 90000}});
    CHECK(MediaTime{-1, {1, 30}} < MediaTime{0, {1, 600}});
}

TEST_CASE("comparison does not overflow at the ends of int64") {
    const MediaTime late{INT64_MAX, {1001, 2147483647}};
    const MediaTime later{INT64_MAX, {1001, 2147483646}};
    CHECK(late < later);
    CHECK(MediaTime{INT64_MIN, {1, 90000}} < late);
}

TEST_CASE("a tick survives the trip through its own seconds from zero but not through float") {
    // 29.97 pictures per second in 1/90000: one picture is 3003 ticks.
    const TimeBase base{1, 90000};
    CHECK(nearest_tick(seconds_between(0, 3003, base), base) == 3003);
    CHECK(nearest_tick(1.5, base, 100) == 135100);
    CHECK(nearest_tick(-0.5, base) == -45000);
}

TEST_CASE("seconds between ticks far from zero keep their last digit") {
    const std::int64_t far = std::int64_t{1} << 53;
    CHECK(seconds_between(far, far + 1, {1, 1}) == 1.0);
}

TEST_CASE("rescaling rounds to nearest and saturates") {
    CHECK(rescale(1, {1, 2}, {1, 1}) == 1);
    CHECK(rescale(-1, {1, 2}, {1, 1}) == -1);
    CHECK(rescale(1001, {1, 30000}, {1, 90000}) == 3003);
    CHECK(rescale(INT64_MAX, {1, 1}, {1, 90000}) == INT64_MAX);
}

TEST_CASE("property: a coarser tick always survives a finer base and back") {
    CHECK(rc::check([](std::int32_t pts) {
        const TimeBase coarse{1, 600};
        const TimeBase fine{1, 90000};
        RC_ASSERT(rescale(rescale(pts, coarse, fine), fine, coarse) == pts);
    }));
}
