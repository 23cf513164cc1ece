#include "compare/pairing.hpp"

#include <doctest/doctest.h>

using namespace quarterturn;
using namespace quarterturn::compare;

namespace {

posing::Segment hold(const char* pose, double start_s, double end_s, const char* side = nullptr) {
    posing::Segment made;
    made.kind = posing::SegmentKind::hold;
    made.pose = pose;
    made.start_s = start_s;
    made.end_s = end_s;
    made.start_pts = static_cast<std::int64_t>(start_s * 1000);
    made.end_pts = static_cast<std::int64_t>(end_s * 1000);
    made.steadiest_pts = made.start_pts + 100;
    if (side != nullptr) made.side = side;
    return made;
}

Take take(std::vector<posing::Segment> segments) {
    posing::Analysis analysis;
    analysis.clip.time_base = {1, 1000};
    analysis.clip.duration_s = 60;
    analysis.segments = std::move(segments);
    return {"film", std::make_shared<const posing::Analysis>(std::move(analysis)), nullptr};
}

}  // namespace

TEST_CASE("repeats are paired in order, and what is left over has no counterpart") {
    const Takes now{take({hold("a", 1, 2), hold("b", 3, 4), hold("a", 5, 6), hold("a", 7, 8)})};
    const Takes before{take({hold("b", 1, 2), hold("a", 3, 4)}), take({hold("a", 1, 2), hold("c", 3, 4)})};
    const Pairing pairing = pair_holds(now, before);
    REQUIRE(pairing.pairs.size() == 3);
    CHECK(pairing.pairs[0].before == HoldPlace{0, 1});
    CHECK(pairing.pairs[1].before == HoldPlace{0, 0});
    CHECK(pairing.pairs[2].before == HoldPlace{1, 0});
    REQUIRE(pairing.unpaired.size() == 2);
    CHECK(pairing.unpaired[0].is_now);
    CHECK(pairing.unpaired[0].place == HoldPlace{0, 3});
    CHECK(pairing.unpaired[1].pose == "c");
    CHECK(pairing.pairs[0].now_still_s == doctest::Approx(1.1));
}

TEST_CASE("a pose shown to both sides is paired side with side first") {
    const Takes now{take({hold("side_chest", 1, 2, "left"), hold("side_chest", 3, 4, "right")})};
    const Takes before{take({hold("side_chest", 1, 2, "right"), hold("side_chest", 3, 4, "left")})};
    const Pairing pairing = pair_holds(now, before);
    REQUIRE(pairing.pairs.size() == 2);
    CHECK(pairing.pairs[0].before.segment == 1);
    CHECK_FALSE(pairing.pairs[0].other_side);

    const Takes once{take({hold("side_chest", 1, 2, "right")})};
    const Pairing other = pair_holds({take({hold("side_chest", 1, 2, "left")})}, once);
    REQUIRE(other.pairs.size() == 1);
    CHECK(other.pairs[0].other_side);
}

TEST_CASE("a person's pins win, the later one of two about the same hold") {
    const Takes now{take({hold("a", 1, 2), hold("a", 3, 4)})};
    const Takes before{take({hold("a", 1, 2), hold("b", 3, 4), hold("a", 5, 6)})};
    Pins pins;
    pins.pairs.push_back({HoldPlace{0, 0}, HoldPlace{0, 2}});
    pins.pairs.push_back({HoldPlace{0, 0}, HoldPlace{0, 1}});
    SUBCASE("two poses with different names") {
        const Pairing pairing = pair_holds(now, before, pins);
        REQUIRE(pairing.pairs.size() == 2);
        CHECK(pairing.pairs[0].by_person);
        CHECK(pairing.pairs[0].before.segment == 1);
        CHECK(pairing.pairs[1].before.segment == 0);
    }
    SUBCASE("a hold that has no counterpart") {
        pins.pairs.push_back({HoldPlace{0, 1}, std::nullopt});
        const Pairing pairing = pair_holds(now, before, pins);
        CHECK(pairing.pairs.size() == 1);
        CHECK(pairing.unpaired.size() == 3);
    }
    SUBCASE("a pin about a hold that is no longer there does nothing") {
        pins.pairs = {{HoldPlace{0, 7}, HoldPlace{0, 0}}};
        CHECK(pair_holds(now, before, pins).pairs.size() == 2);
    }
}

TEST_CASE("two pinned moments within paired holds are the stills") {
    Pins pins;
    pins.moments.push_back({0, 0, 1.5, 3.75});
    const Pairing pairing = pair_holds({take({hold("a", 1, 2)})}, {take({hold("a", 3, 4)})}, pins);
    CHECK(pairing.pairs[0].now_still_pts == 1500);
    CHECK(pairing.pairs[0].before_still_pts == 3750);
}
