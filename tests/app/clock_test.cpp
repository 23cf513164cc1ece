#include "app/clock.hpp"

#include <doctest.h>

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
