// A panel's places added up, against published worked examples (a federation's score sheet for nine judges: 17 in all,
// 9 when two are dropped at each end) and the same arithmetic done by hand.
#include <doctest.h>

#include "rules/placing.hpp"
#include "rules/rule_sets.hpp"

using namespace quarterturn::rules;

TEST_CASE("nine judges: nothing, one or two places dropped at each end") {
    const std::vector<int> places{3, 1, 2, 2, 1, 3, 1, 2, 2};
    CHECK(place_total(places, 0).value() == 17);
    CHECK(place_total(places, 1).value() == 13);
    CHECK(place_total(places, 2).value() == 9);
}

TEST_CASE("seven judges drop one at each end, five judges one or none") {
    CHECK(place_total({2, 2, 1, 3, 2, 5, 2}, 1).value() == 11);
    CHECK(place_total({1, 1, 2, 1, 4}, 0).value() == 9);
    CHECK(place_total({1, 1, 2, 1, 4}, 1).value() == 4);
}

TEST_CASE("a panel that is too small or a place below 1 is refused") {
    CHECK_FALSE(place_total({1, 2}, 1));
    CHECK_FALSE(place_total({1, 0, 2}, 0));
    CHECK_FALSE(place_total({1, 2, 3}, -1));
}

TEST_CASE("how many places are dropped is a setting of every rule set") {
    for (const std::string& id : bundled_rule_sets()) {
        CHECK(bundled_rule_set(id)->judges_dropped == 0);
        CHECK(with_choice(bundled_rule_set(id).value(), "panel", "two_each_end")->judges_dropped == 2);
    }
}
