#include "app/clock.hpp"

#include <doctest.h>

#include <algorithm>
#include <cmath>

using namespace quarterturn::app;

TEST_CASE("the clock runs at the speed given and stops where it was stopped") {
    double time = 100;
    PlaybackClock clock([&] { return time; });
    clock.start(5, 0.5);
    time += 4;
    CHECK(clock.position() == doctest::Approx(7));
    clock.stop();
    time += 10;
    CHECK(clock.position() == doctest::Approx(7));
}

TEST_CASE("sound is the master: its report moves the clock, and the steady clock fills in between reports") {
    double time = 0;
    PlaybackClock clock([&] { return time; });
    clock.start(0, 1);
    time = 1;
    CHECK(clock.position(1.02) == doctest::Approx(1.02));
    CHECK(clock.drift() == doctest::Approx(-0.02));
    time = 1.01;
    CHECK(clock.position(1.02) == doctest::Approx(1.03));
}

TEST_CASE("a sound report from a moment ago does not turn the clock back") {
    double time = 0;
    PlaybackClock clock([&] { return time; });
    clock.start(0, 1);
    time = 2;
    CHECK(clock.position() == doctest::Approx(2));
    CHECK(clock.position(1.9) == doctest::Approx(2));
    time = 2.2;
    CHECK(clock.position(1.9) == doctest::Approx(2.1));
}

// A device that counts in blocks of 1024 at 48 kHz and is asked every 10 ms; its crystal is off by 200 parts in a
// million.
TEST_CASE("reports in blocks do not make the clock hurry and wait, and it still follows the device for ten minutes") {
    double time = 0;
    PlaybackClock clock([&] { return time; });
    clock.start(0, 1);
    double last = 0, longest = 0, shortest = 1, furthest = 0;
    constexpr double look = 0.01, block = 1024.0 / 48000;
    for (int i = 1; i <= 60000; ++i) {
        time = i * look;
        const double heard = time * 1.0002;
        const double now = clock.position(std::floor(heard / block) * block);
        if (i > 100) {  // a second to settle
            longest = std::max(longest, now - last);
            shortest = std::min(shortest, now - last);
            furthest = std::max(furthest, std::abs(heard - now));
        }
        last = now;
    }
    CHECK(longest < 1.25 * look);
    CHECK(shortest > 0.75 * look);
    CHECK(furthest < 1.5 * block);
}

TEST_CASE("sound that stopped or jumped is followed at once") {
    double time = 0;
    PlaybackClock clock([&] { return time; });
    clock.start(0, 1);
    time = 1;
    CHECK(clock.position(1.0) == doctest::Approx(1));
    time = 2;
    CHECK(clock.position(2.5) == doctest::Approx(2.5));
}
