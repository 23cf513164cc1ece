#include "journal/store.hpp"

#include <doctest.h>
#include <sys/stat.h>

#include <fstream>

#include "base/file.hpp"
#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

namespace {

unsigned mode_of(const std::filesystem::path& path) {
    struct stat facts {};
    REQUIRE(::stat(path.c_str(), &facts) == 0);
    return facts.st_mode & 0777U;
}

}  // namespace

TEST_CASE("a library is created once and opened again") {
    const TemporaryFolder folder;
    REQUIRE(Store::create(folder.path() / "library", "Mine", athlete));
    CHECK(Store::create(folder.path() / "library", "Mine", athlete).error().code == ErrorCode::conflict);
    const auto store = Store::open(folder.path() / "library");
    REQUIRE(store);
    CHECK(store->read()->title == "Mine");
}

TEST_CASE("no library is made in a folder that holds other files") {
    const TemporaryFolder folder;
    REQUIRE(write_file(folder.path() / "holiday.txt", "sun"));
    CHECK(Store::create(folder.path(), "Mine", athlete).error().code == ErrorCode::conflict);
    CHECK(read_file(folder.path() / "holiday.txt").value() == "sun");
}

TEST_CASE("a creation that was cut short can be repeated") {
    const TemporaryFolder folder;
    REQUIRE(Store::create(folder.path(), "Mine", athlete));
    std::filesystem::remove(folder.path() / "library.json");
    CHECK(Store::create(folder.path(), "Mine", athlete));
}

TEST_CASE("a folder that is no library is refused with advice") {
    const TemporaryFolder folder;
    const auto store = Store::open(folder.path());
    REQUIRE_FALSE(store);
    CHECK(store.error().code == ErrorCode::not_found);
    CHECK(store.error().detail.find("Create one there first") != std::string::npos);
}

TEST_CASE("everything written is for its owner only") {
    const LibraryFixture library;
    REQUIRE(library.store.folder() == library.folder.path() / "library");
    for (const auto& entry : std::filesystem::recursive_directory_iterator{library.store.folder()}) {
        CAPTURE(entry.path().string());
        CHECK(mode_of(entry.path()) == (entry.is_directory() ? 0700U : 0600U));
    }
}

TEST_CASE("a note is added, changed, done, removed and brought back") {
    LibraryFixture library;
    Note note = library.store.add_note(library.note("left hand lower"), coach).value();
    CHECK(library.read().find_note(note.id)->text == "left hand lower");
    CHECK(note.author == coach);

    note.done = true;
    note = library.store.edit_note(note, athlete).value();
    CHECK(note.editor == athlete);
    CHECK(note.author == coach);
    CHECK(library.read().find_note(note.id)->done);

    REQUIRE(library.store.remove_note(note.id, athlete));
    CHECK(library.read().notes.empty());
    CHECK(library.store.read(true)->notes.size() == 1);
    CHECK(library.store.edit_note(note, athlete).error().code == ErrorCode::not_found);

    REQUIRE(library.store.restore_note(note.id, athlete));
    CHECK(library.read().notes.size() == 1);
}

TEST_CASE("an edit of an outdated note is refused and loses nothing") {
    LibraryFixture library;
    const Note read = library.store.add_note(library.note("one"), athlete).value();
    Note first = read;
    first.text = "two";
    REQUIRE(library.store.edit_note(first, coach));
    Note second = read;
    second.text = "three";
    CHECK(library.store.edit_note(second, athlete).error().code == ErrorCode::conflict);
    CHECK(library.read().notes.front().text == "two");
}

TEST_CASE("an edit that changes nothing is not counted") {
    LibraryFixture library;
    const Note note = library.store.add_note(library.note("same"), athlete).value();
    CHECK(library.store.edit_note(note, coach)->edits == note.edits);
}

TEST_CASE("a pin is added, taken back and brought back, and must be about two clips that are there") {
    LibraryFixture library;
    Pin pin;
    pin.now = {library.read().clips.front().id, {1, 90000}, PtsRange{100, 200}, std::nullopt};
    pin.before = {fingerprint('b'), {1, 90000}, PtsRange{10, 20}, std::nullopt};
    CHECK(library.store.add_pin(pin, athlete).error().code == ErrorCode::not_found);
    pin.before.clip = pin.now.clip;
    CHECK(library.store.add_pin(pin, athlete).error().code == ErrorCode::bad_input);
    CHECK(library.read().pins.empty());
}

TEST_CASE("a note must refer to what is there") {
    LibraryFixture library;
    Note note = library.note("where?");
    note.clip = fingerprint('b');
    CHECK(library.store.add_note(note, athlete).error().code == ErrorCode::not_found);
    note = library.note("when?");
    note.session = "0190a0a0-0000-7000-8000-000000000000";
    CHECK(library.store.add_note(note, athlete).error().code == ErrorCode::not_found);
    CHECK(library.read().notes.empty());
}

TEST_CASE("a field out of its range is named and nothing is written") {
    LibraryFixture library;
    Note note = library.note("  ");
    CHECK(library.store.add_note(note, athlete).error().detail == "text: must not be empty");
    note = library.note("backwards");
    note.moment->end_pts = 80000;
    CHECK(library.store.add_note(note, athlete).error().detail == "moment.end_pts: must be later than start_pts");
    note = library.note("not UTF-8 \xFF");
    CHECK(library.store.add_note(note, athlete).error().code == ErrorCode::bad_input);
    CHECK(library.read().notes.empty());
}

TEST_CASE("ids that are paths name no file") {
    LibraryFixture library;
    CHECK(library.store.remove_note("../../library", athlete).error().code == ErrorCode::not_found);
    CHECK(library.store.remove_clip("sha256:../x", athlete).error().code == ErrorCode::not_found);
}

TEST_CASE("a session moves to another date, but not onto another session") {
    LibraryFixture library;
    Session session = library.read().sessions.front();
    session.date = parse_date("2026-03-06").value();
    session.date_source = DateSource::given;
    REQUIRE(library.store.edit_session(session, athlete));
    CHECK(library.read().sessions.front().date == session.date);

    Session second;
    second.season = library.season.id;
    second.date = parse_date("2026-03-08").value();
    second = library.store.add_session(second, athlete).value();
    second.date = session.date;
    CHECK(library.store.edit_session(second, athlete).error().code == ErrorCode::conflict);
}

TEST_CASE("seasons and sessions that still hold something are not removed") {
    LibraryFixture library;
    CHECK(library.store.remove_season(library.season.id, athlete).error().code == ErrorCode::conflict);
    CHECK(library.store.remove_session(library.session, athlete).error().code == ErrorCode::conflict);
    REQUIRE(library.store.remove_clip(library.clip, athlete));
    REQUIRE(library.store.remove_session(library.session, athlete));
    REQUIRE(library.store.remove_season(library.season.id, athlete));
    CHECK(library.read().seasons.empty());
}

TEST_CASE("the revision changes with every edit, also by another store, and not otherwise") {
    LibraryFixture library;
    const auto before = library.store.revision();
    CHECK(library.store.revision() == before);
    Store other = Store::open(library.store.folder()).value();
    REQUIRE(other.add_note(library.note("from elsewhere"), coach));
    const auto after = library.store.revision();
    CHECK(after != before);
    CHECK(other.revision() == after);
}

TEST_CASE("one broken document leaves the rest readable and is named") {
    LibraryFixture library;
    const Note note = library.store.add_note(library.note("kept"), athlete).value();
    const Note other = library.store.add_note(library.note("broken"), athlete).value();
    const auto path = library.store.folder() / "journal" / "notes" / (other.id + ".json");
    REQUIRE(write_file(path, "{\"format\": "));
    const Library read = library.read();
    REQUIRE(read.notes.size() == 1);
    CHECK(read.notes.front().id == note.id);
    REQUIRE(read.unreadable.size() == 1);
    CHECK(read.unreadable.front().path == path);
}

TEST_CASE("a second copy of a document left by a folder sync is pointed out") {
    LibraryFixture library;
    const Note note = library.store.add_note(library.note("kept"), athlete).value();
    const auto notes = library.store.folder() / "journal" / "notes";
    std::filesystem::copy_file(notes / (note.id + ".json"), notes / (note.id + " (copy).json"));
    const Library read = library.read();
    CHECK(read.notes.size() == 1);
    REQUIRE(read.unreadable.size() == 1);
    CHECK(read.unreadable.front().error.code == ErrorCode::conflict);
}
