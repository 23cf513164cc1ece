#include "compare/nearest_match.hpp"

#include <doctest/doctest.h>

using namespace quarterturn::compare;

TEST_CASE("the same division, then the same weeks out and the same poses, make the nearest match") {
    const Occasion now{"figure", 14, {"a", "b", "c", "d"}};
    const std::vector<Occasion> candidates{
        {"wellness", 14, {"a", "b", "c", "d"}},  // another division
        {"figure", 70, {"a", "b", "c", "d"}},    // eight weeks off
        {"figure", 20, {"a", "b", "c", "d"}},    // six days off
        {"figure", 14, {"a", "b"}},              // the day, half of the poses
        {"figure", 14, {}},                      // nothing measured
    };
    const auto ranked = rank_matches(now, candidates);
    REQUIRE(ranked.size() == 5);
    CHECK(ranked[0].candidate == 2);
    CHECK(ranked[0].days_apart == 6);
    CHECK(ranked[0].poses_shared == 4);
    CHECK(ranked[1].candidate == 3);
    CHECK(ranked[2].candidate == 4);
    CHECK(ranked[3].candidate == 1);
    CHECK_FALSE(ranked[4].same_division);
    CHECK(rank_matches(now, {}).empty());
}
