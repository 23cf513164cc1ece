#include "journal/score.hpp"

#include <doctest.h>

#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

namespace {

rules::PoseExpectation pose_with_items() {
    rules::PoseExpectation pose;
    pose.pose = "quarter_front";
    const auto add = [&](const char* id, double weight, bool measured) {
        rules::ChecklistItem item;
        item.id = id;
        item.text = id;
        item.weight = weight;
        item.measured = measured;
        pose.items.push_back(item);
    };
    add("stillness", 2, true);
    add("hands_soft", 1, false);
    add("face_calm", 1, false);
    return pose;
}

Mark mark(const Author& author, const char* item, int value, int minute = 0) {
    Mark made;
    made.session = "s";
    made.pose = "quarter_front";
    made.item = item;
    made.author = author;
    made.value = value;
    made.edited = Instant{std::chrono::minutes{minute}};
    return made;
}

}  // namespace

TEST_CASE("a score is the weighted mean of what was marked, with how many were") {
    const std::vector<Mark> marks{mark(coach, "stillness", 4), mark(coach, "hands_soft", 1)};
    const Score score = pose_score(pose_with_items(), marks, "s", Role::coach);
    CHECK(score.percent.value() == doctest::Approx(75));  // (2*4 + 1*1) / (3*4)
    CHECK(score.marked == 2);
    CHECK(score.items == 3);
}

TEST_CASE("nothing marked is no score, not zero") {
    const Score score = pose_score(pose_with_items(), {}, "s", Role::athlete);
    CHECK_FALSE(score.percent.has_value());
    CHECK(score.items == 3);
}

TEST_CASE("the program's mark holds until a person overrules it, and both are kept") {
    std::vector<Mark> marks{mark(program, "stillness", 1)};
    CHECK(mark_that_holds(marks, "s", "quarter_front", "stillness", Role::coach)->value == 1);
    marks.push_back(mark(coach, "stillness", 3));
    CHECK(mark_that_holds(marks, "s", "quarter_front", "stillness", Role::coach)->value == 3);
    CHECK(mark_that_holds(marks, "s", "quarter_front", "stillness", Role::athlete)->value == 1);
    CHECK(mark_that_holds(marks, "s", "quarter_front", "stillness", Role::program)->value == 1);
}

TEST_CASE("of two coaches the later mark holds") {
    const std::vector<Mark> marks{mark({"Rolf", Role::coach}, "stillness", 1, 5),
                                  mark({"Mia", Role::coach}, "stillness", 4, 9)};
    CHECK(mark_that_holds(marks, "s", "quarter_front", "stillness", Role::coach)->value == 4);
}

TEST_CASE("a mark that was taken back, of another session or pose does not count") {
    std::vector<Mark> marks{mark(athlete, "stillness", 2)};
    marks[0].value = std::nullopt;
    CHECK(mark_that_holds(marks, "s", "quarter_front", "stillness", Role::athlete) == nullptr);
    marks[0].value = 2;
    CHECK(mark_that_holds(marks, "t", "quarter_front", "stillness", Role::athlete) == nullptr);
    CHECK(mark_that_holds(marks, "s", "quarter_back", "stillness", Role::athlete) == nullptr);
}

TEST_CASE("a session's score weighs all items of its called poses together") {
    rules::RuleSet rule_set;
    rule_set.poses = {pose_with_items(), pose_with_items()};
    rule_set.poses[1].pose = "line_up";  // known but not called
    rule_set.call_order = {"quarter_front", "quarter_front"};
    const std::vector<Mark> marks{mark(coach, "hands_soft", 2)};
    const Score score = session_score(rule_set, marks, "s", Role::coach);
    CHECK(score.percent.value() == doctest::Approx(50));
    CHECK(score.items == 3);
}

TEST_CASE("marks are kept for each author apart") {
    LibraryFixture library;
    Mark own = mark(athlete, "stillness", 2);
    own.session = library.session;
    Mark measured = mark(program, "stillness", 4);
    measured.session = library.session;
    measured.measured = 0.012;
    measured.unit = "body heights/s";
    REQUIRE(library.store.set_mark(own));
    REQUIRE(library.store.set_mark(measured));
    const Library read = library.read();
    REQUIRE(read.marks.size() == 2);
    CHECK(mark_that_holds(read.marks, library.session, "quarter_front", "stillness", Role::program)->measured == 0.012);
}

TEST_CASE("a mark counts its edits, is taken back, and saying the same again is no edit") {
    LibraryFixture library;
    Mark made = mark(athlete, "stillness", 2);
    made.session = library.session;
    CHECK(library.store.set_mark(made)->edits == 1);
    CHECK(library.store.set_mark(made)->edits == 1);
    made.value = 3;
    CHECK(library.store.set_mark(made)->edits == 2);
    made.value = std::nullopt;
    CHECK(library.store.set_mark(made)->edits == 3);
    CHECK(library.read().marks.empty());
}

TEST_CASE("a mark outside 0 to 4 or in no session is refused") {
    LibraryFixture library;
    Mark made = mark(athlete, "stillness", 5);
    made.session = library.session;
    CHECK(library.store.set_mark(made).error().code == ErrorCode::bad_input);
    made.value = 4;
    made.session = "0190a0a0-0000-7000-8000-000000000000";
    CHECK(library.store.set_mark(made).error().code == ErrorCode::not_found);
}
