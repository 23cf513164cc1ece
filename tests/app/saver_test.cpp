#include "app/saver.hpp"

#include <doctest.h>

#include "app/apply.hpp"
#include "app/library_keeper.hpp"
#include "base/id.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;
using quarterturn::test::TemporaryFolder;

namespace {

const journal::Author mara{"Mara", journal::Role::athlete};

struct Kept {
    TemporaryFolder folder;
    std::optional<Saver> saver;
    std::string session, clip = "sha256:" + std::string(64, 'b');
    std::vector<Saver::NewName> names;

    Kept() {
        auto store = journal::Store::create(folder.path() / "library", "Test", mara);
        REQUIRE(store);
        journal::Season season;
        season.title = "Spring";
        season.show_date = *parse_date("2026-05-30");
        season.rule_set = "womens_figure";
        const auto added = store->add_season(season, mara);
        REQUIRE(added);
        journal::ClipFacts facts;
        facts.fingerprint = clip;
        facts.path = "/films/clip.mp4";
        journal::AddOptions options;
        options.date = *parse_date("2026-04-01");
        session = store->add_clips(added->id, {&facts, 1}, options, mara)->clips[0].session;
        saver.emplace(std::move(*store));
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
