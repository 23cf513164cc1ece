#include "rules/measured_mark.hpp"

#include <doctest.h>

using namespace quarterturn::rules;

TEST_CASE("a value on its limit keeps it and earns the full mark") {
    const Limit twist{Comparison::at_most, 15, "deg"};
    CHECK(is_met(15, twist));
    CHECK(is_met(-15, twist));
    CHECK_FALSE(is_met(15.01, twist));
    CHECK(mark_for(15, twist) == 4);
    const Limit hold{Comparison::at_least, 10, "s"};
    CHECK(is_met(10, hold));
    CHECK(mark_for(10, hold) == 4);
}

TEST_CASE("the further a limit is missed, the lower the mark, in either direction") {
    const Limit twist{Comparison::at_most, 10, "deg"};
    CHECK(mark_for(12.5, twist) == 3);
    CHECK(mark_for(-12.5, twist) == 3);
    CHECK(mark_for(15, twist) == 2);
    CHECK(mark_for(20, twist) == 1);
    CHECK(mark_for(20.1, twist) == 0);
    const Limit hold{Comparison::at_least, 10, "s"};
    CHECK(mark_for(8.6, hold) == 3);
    CHECK(mark_for(7.1, hold) == 2);
    CHECK(mark_for(5.1, hold) == 1);
    CHECK(mark_for(4.9, hold) == 0);
}

TEST_CASE("a limit of nothing is kept or missed") {
    const Limit none{Comparison::at_most, 0, "steps"};
    CHECK(mark_for(0, none) == 4);
    CHECK(mark_for(1, none) == 0);
}

TEST_CASE("the limit of the hold's length is the pose's goal") {
    PoseExpectation pose;
    pose.target_hold_s = 12;
    ChecklistItem item;
    item.id = "hold_length";
    item.measured = true;
    CHECK(limit_of(pose, item) == Limit{Comparison::at_least, 12, "s"});
    item.id = "face_calm";
    item.measured = false;
    CHECK_FALSE(limit_of(pose, item).has_value());
}
