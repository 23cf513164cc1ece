#include "journal/record.hpp"

#include <doctest.h>
#include <rapidcheck.h>

#include "base/file.hpp"
#include "journal/season.hpp"
#include "journal/writer_id.hpp"
#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

TEST_CASE("of two versions the one that has seen all edits of the other is newer") {
    CHECK(compare_edits({{"a", 1}}, {{"a", 1}}) == Order::same);
    CHECK(compare_edits({{"a", 2}}, {{"a", 1}}) == Order::newer);
    CHECK(compare_edits({{"a", 1}}, {{"a", 1}, {"b", 1}}) == Order::older);
    CHECK(compare_edits({{"a", 2}}, {{"a", 1}, {"b", 1}}) == Order::apart);
    CHECK(compare_edits({}, {}) == Order::same);
}

TEST_CASE("comparing edits is an order: turned round it says the opposite") {
    const bool held = rc::check([] {
        const auto counters = [] {
            EditCounters made;
            for (const char* place : {"a", "b", "c"}) {
                const auto count = *rc::gen::inRange<std::int64_t>(0, 4);
                if (count > 0) made[place] = count;
            }
            return made;
        };
        const EditCounters a = counters();
        const EditCounters b = counters();
        const Order order = compare_edits(a, b);
        const Order back = compare_edits(b, a);
        RC_ASSERT((order == Order::newer) == (back == Order::older));
        RC_ASSERT((order == Order::apart) == (back == Order::apart));
        RC_ASSERT((order == Order::same) == (a == b));
    });
    CHECK(held);
}

TEST_CASE("a library counts its edits under one key, a copy of it under another") {
    LibraryFixture library;
    const std::string here = writer_id(library.store.folder());
    CHECK(writer_id(library.store.folder()) == here);
    const Note note = library.store.add_note(library.note("x"), athlete).value();
    CHECK(note.edits == EditCounters{{here, 1}});

    const auto copy = library.folder.path() / "copy";
    std::filesystem::copy(library.store.folder(), copy, std::filesystem::copy_options::recursive);
    CHECK(writer_id(copy) != here);

    std::filesystem::remove_all(library.store.cache_folder());
    CHECK(writer_id(library.store.folder()) != here);
}

TEST_CASE("edits made apart in two copies are seen to be apart") {
    LibraryFixture library;
    const Note note = library.store.add_note(library.note("x"), athlete).value();
    const auto copy = library.folder.path() / "copy";
    std::filesystem::copy(library.store.folder(), copy, std::filesystem::copy_options::recursive);
    Store other = Store::open(copy).value();
    Note mine = note;
    mine.text = "mine";
    Note theirs = note;
    theirs.text = "theirs";
    const Note a = library.store.edit_note(mine, athlete).value();
    const Note b = other.edit_note(theirs, coach).value();
    CHECK(compare_edits(a.edits, note.edits) == Order::newer);
    CHECK(compare_edits(a.edits, b.edits) == Order::apart);
}

TEST_CASE("standing height is the barefoot height and the heels") {
    Athlete person;
    Season season;
    Session session;
    CHECK_FALSE(standing_height_cm(person, season, session).has_value());
    person.barefoot_height_cm = 166;
    CHECK(standing_height_cm(person, season, session) == 166);
    session.heel_height_cm = 12;
    season.barefoot_height_cm = 167;
    CHECK(standing_height_cm(person, season, session) == 179);
}
