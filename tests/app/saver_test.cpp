#include "app/saver.hpp"

#include <doctest.h>

#include "app/apply.hpp"
#include "app/library_keeper.hpp"
#include "base/id.hpp"
#include "one_clip_library.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;
using quarterturn::test::mara;
using quarterturn::test::TemporaryFolder;

namespace {

struct Kept {
    TemporaryFolder folder;
    std::optional<Saver> saver;
    std::string session, clip;
    std::vector<Saver::NewName> names;

    Kept() {
        auto library = test::one_clip_library(folder.path() / "library");
        session = library.session;
        clip = library.clip;
        saver.emplace(std::move(library.store));
        REQUIRE(saver->read());
    }
    journal::Note note(const std::string& text) const {
        journal::Note made;
        made.id = new_id();
        made.session = session;
        made.clip = clip;
        made.text = text;
        return made;
    }
    void save(Change change) { REQUIRE(saver->save({"", {std::move(change)}}, mara, names)); }
    journal::Library now() { return *saver->read(); }
};

using NoteChange = EntryChange<journal::Note>;

}  // namespace

TEST_CASE("a note is stored, changed, taken away and brought back by its first name") {
    Kept kept;
    const journal::Note note = kept.note("first");
    kept.save(NoteChange{std::nullopt, note});
    REQUIRE(kept.now().notes.size() == 1);
    journal::Note after = note;
    after.text = "second";
    kept.save(NoteChange{note, after});
    CHECK(kept.now().notes[0].text == "second");
    kept.save(NoteChange{after, std::nullopt});
    CHECK(kept.now().notes.empty());
    kept.save(NoteChange{std::nullopt, note});
    REQUIRE(kept.now().notes.size() == 1);
    CHECK(kept.now().notes[0].text == "first");
}

TEST_CASE("what another program changed meanwhile stays, ours is laid over it") {
    Kept kept;
    const journal::Note note = kept.note("text");
    kept.save(NoteChange{std::nullopt, note});
    journal::Note theirs = kept.now().notes[0];
    theirs.done = true;
    REQUIRE(kept.saver->store().edit_note(theirs, {"Coach", journal::Role::coach}));
    journal::Note ours = note;
    ours.topic = rules::Topic::feet;
    kept.save(NoteChange{note, ours});
    CHECK(kept.now().notes[0].done);
    CHECK(kept.now().notes[0].topic == rules::Topic::feet);
}

TEST_CASE("where two wrote the same text both texts stay") {
    Kept kept;
    const journal::Note note = kept.note("start");
    kept.save(NoteChange{std::nullopt, note});
    journal::Note theirs = kept.now().notes[0];
    theirs.text = "theirs";
    REQUIRE(kept.saver->store().edit_note(theirs, {"Coach", journal::Role::coach}));
    journal::Note ours = note;
    ours.text = "ours";
    kept.save(NoteChange{note, ours});
    const auto library = kept.now();
    REQUIRE(library.notes.size() == 2);
    CHECK((library.notes[0].text == "theirs" || library.notes[1].text == "theirs"));
    CHECK((library.notes[0].text == "ours" || library.notes[1].text == "ours"));
}

TEST_CASE("a clip taken out comes back with undo") {
    Kept kept;
    const journal::Clip clip = kept.now().clips[0];
    kept.save(EntryChange<journal::Clip>{clip, std::nullopt});
    CHECK(kept.now().clips.empty());
    kept.save(EntryChange<journal::Clip>{std::nullopt, clip});
    CHECK(kept.now().clips.size() == 1);
}

TEST_CASE("how a clip was filmed is laid over what another program said of it meanwhile, and undone") {
    Kept kept;
    const journal::Clip before = kept.now().clips[0];
    journal::Clip theirs = before;
    theirs.counts = false;
    REQUIRE(kept.saver->store().edit_clip(theirs, {"Coach", journal::Role::coach}));
    journal::Clip after = before;
    after.tilt_deg = -2.5;
    after.rotation_deg = -90;
    after.time_scale = 0.25;
    after.athlete_at = journal::AthleteShown{40, {1, 1000}, 0.25, 0.5};
    kept.save(EntryChange<journal::Clip>{before, after});
    journal::Clip stored = kept.now().clips[0];
    CHECK_FALSE(stored.counts);
    CHECK(stored.tilt_deg == -2.5);
    CHECK(stored.rotation_deg == -90);
    CHECK(stored.time_scale == 0.25);
    CHECK(stored.athlete_at == after.athlete_at);
    kept.save(EntryChange<journal::Clip>{after, before});
    stored = kept.now().clips[0];
    CHECK_FALSE(stored.counts);
    CHECK_FALSE(stored.tilt_deg);
    CHECK_FALSE(stored.rotation_deg);
    CHECK_FALSE(stored.athlete_at);
    // Taken out and back: as it was.
    kept.save(EntryChange<journal::Clip>{before, after});
    const journal::Clip whole = kept.now().clips[0];
    kept.save(EntryChange<journal::Clip>{whole, std::nullopt});
    kept.save(EntryChange<journal::Clip>{std::nullopt, whole});
    CHECK(kept.now().clips[0].tilt_deg == -2.5);
    CHECK(kept.now().clips[0].athlete_at == after.athlete_at);
}

TEST_CASE("typing is stored as one change") {
    journal::Note note;
    note.id = "n";
    journal::Note a = note, b = note;
    a.text = "a";
    b.text = "ab";
    const auto together = gathered({{1, {"", {NoteChange{std::nullopt, a}}}}, {2, {"", {NoteChange{a, b}}}}});
    REQUIRE(together.size() == 1);
    CHECK(together[0].number == 2);
    const auto& change = std::get<NoteChange>(together[0].edit.changes[0]);
    CHECK_FALSE(change.before);
    CHECK(change.after->text == "ab");
}
