// A step's middle against steps whose middle is known. The foot here moves by a raised cosine, not by the movement of
// least jerk that the fit assumes.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "posing/step_timing.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

struct Step {
    double middle_s, length_s;
    double across, down, lift;  ///< pixels of a body 500 tall
    double nearer = 1;          ///< the way as seen by a phone to which the foot comes so much nearer
};

double height_at(const Step& step, double t) {
    return t < step.middle_s ? 500 : 500 * step.nearer;
}

/// A foot that steps, looked at `rate` times a second.
std::vector<FootPlace> places_with(const Step& step, double rate, double first_s) {
    std::vector<FootPlace> places;
    for (double t = first_s; t < 4; t += 1 / rate) {
        FootPlace& place = places.emplace_back();
        place.t_s = t;
        place.seen = 1;
        place.height_px = height_at(step, t);
        const double u = std::clamp((t - step.middle_s) / step.length_s + 0.5, 0.0, 1.0);
        const double even = (1 - std::cos(std::numbers::pi * u)) / 2, up = std::pow(std::sin(std::numbers::pi * u), 2);
        // depths 1 and 1 / nearer: what is half way in the room is nearer the far end in the picture
        const double depth = 1 + even * (1 / step.nearer - 1);
        const double done = step.nearer == 1 ? even : (1 / depth - 1) / (step.nearer - 1);
        place.marks.fill({200 + step.across * done, 600 + step.down * done - step.lift * up});
    }
    return places;
}

double off(const Step& step, double guess_s, double first_s = 0.03) {
    const auto found = step_time(places_with(step, 15, first_s), guess_s);
    REQUIRE(found);
    return std::abs(found->middle_s - step.middle_s);
}

}  // namespace

TEST_CASE("the middle of a step is told to a hundredth of a second from pictures a fifteenth apart") {
    for (const double offset : {0.0, 0.02, 0.05}) {
        CAPTURE(offset);
        CHECK(off({2.0, 0.5, 120, 0, 10}, 2.06, offset) < 0.01);
    }
}

TEST_CASE("the lift makes a step towards the phone no later and one away from it no earlier") {
    for (const double down : {25.0, -25.0}) {
        CAPTURE(down);
        CHECK(off({2.0, 0.46, 3, down, 14}, 2.0 + 0.002 * down) < 0.022);  // a third of the way between two pictures
    }
}

TEST_CASE("a long step towards the phone is no later and one away from it no earlier than a step across") {
    // 0.9 of 4 m: without perspective both are off by 0.02 s and more, to opposite sides
    for (const double nearer : {1.3, 1 / 1.3}) {
        CAPTURE(nearer);
        CHECK(off({2.0, 0.5, 40, nearer > 1 ? 90.0 : -90.0, 10, nearer}, 2.02) < 0.018);
    }
}

TEST_CASE("pictures in which the foot is taken for the standing one move the middle little") {
    const Step step{2.0, 0.5, 120, 0, 10};
    auto places = places_with(step, 15, 0.03);
    for (FootPlace& place : places)
        if (place.t_s > 1.88 && place.t_s < 2.03)
            for (body::Point& mark : place.marks) mark.x = 200 + 0.4 * (mark.x - 200);
    const auto found = step_time(places, 2.07);
    REQUIRE(found);
    CHECK(std::abs(found->middle_s - 2.0) < 0.04);
    // the other steps of the walk say how long this one was
    const auto with_others = step_time(places, 2.07, {0.5, 0.03});
    REQUIRE(with_others);
    CHECK(std::abs(with_others->middle_s - 2.0) < 0.03);
    CHECK(with_others->error_s > step_time(places_with(step, 15, 0.03), 2.0)->error_s);
}

TEST_CASE("a step that is hardly looked at has no middle") {
    CHECK_FALSE(step_time(places_with({2.0, 0.5, 120, 0, 10}, 3, 0), 2.0));
    CHECK_FALSE(step_time({}, 2.0));
}
