// Killed at any moment, a program loses nothing it was told is kept, and leaves a library that can be read whole.
#include <doctest.h>
#include <unistd.h>

#include <map>
#include <random>
#include <set>

#include "base/file.hpp"
#include "child_process.hpp"
#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

namespace {

using Tell = std::function<void(const std::string&)>;

/// Adds notes, changes one of them, sets a mark: over and over, telling what was acknowledged.
int write_for_ever(const std::filesystem::path& folder, const Note& sample, const std::string& session,
                   const Tell& tell) {
    auto store = Store::open(folder);
    if (!store) return 1;
    Mark mark;
    mark.session = session;
    mark.pose = "quarter_front";
    mark.item = "stillness";
    mark.author = coach;
    for (int round = 0;; ++round) {
        auto note = store->add_note(sample, athlete);
        if (!note) return 2;
        tell("note " + note->id);
        note->text = "changed";
        if (!store->edit_note(*note, coach)) return 3;
        tell("edit " + note->id);
        mark.value = round % 5;
        mark.measured = round;
        if (!store->set_mark(mark)) return 4;
        tell("mark " + std::to_string(round));
    }
}

struct Acknowledged {
    std::set<std::string> notes, edited;
    double mark = -1;
};

void take(Acknowledged& kept, const std::vector<std::string>& lines) {
    for (const std::string& line : lines) {
        const std::string what = line.substr(5);
        if (line.starts_with("note ")) kept.notes.insert(what);
        if (line.starts_with("edit ")) kept.edited.insert(what);
        if (line.starts_with("mark ")) kept.mark = std::stod(what);
    }
}

std::size_t unfinished_writes(const std::filesystem::path& folder) {
    std::size_t count = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator{folder / "journal"})
        count += entry.path().extension() == ".part" ? 1U : 0U;
    return count;
}

}  // namespace

TEST_CASE("killed at any moment: all that was acknowledged is there and every document is readable") {
    LibraryFixture library;
    const Note sample = library.note("kept");
    Acknowledged kept;
    std::mt19937 random{20260307};  // seeded: the same moments, as far as the machine allows
    constexpr int rounds = 60;
    for (int round = 0; round < rounds; ++round) {
        kept.mark = -1;  // each child counts its marks from 0
        ChildProcess child{
            [&](const Tell& tell) { return write_for_ever(library.store.folder(), sample, library.session, tell); }};
        take(kept, child.lines(1 + random() % 4));
        ::usleep(static_cast<useconds_t>(random() % 3000));  // into the middle of a write
        take(kept, child.kill());

        const Library read = library.read();
        REQUIRE(read.unreadable.empty());
        std::map<std::string, const Note*> notes;
        for (const Note& note : read.notes) notes[note.id] = &note;
        for (const std::string& id : kept.notes) REQUIRE(notes.contains(id));
        for (const std::string& id : kept.edited) REQUIRE(notes[id]->text == "changed");
        if (kept.mark >= 0) {
            REQUIRE(read.marks.size() == 1);
            REQUIRE(read.marks.front().measured.value() >= kept.mark);  // or one more, not yet told
        }
    }
    CHECK(kept.notes.size() >= rounds);
}

TEST_CASE("the next program clears away what a killed one left half written") {
    LibraryFixture library;
    const auto notes = library.store.folder() / "journal" / "notes";
    REQUIRE(write_file(notes / ".x.json.0190a0a0.part", "{\"form"));
    CHECK(unfinished_writes(library.store.folder()) == 1);
    CHECK(library.read().unreadable.empty());
    Store next = Store::open(library.store.folder()).value();
    REQUIRE(next.add_note(library.note("kept"), athlete));
    CHECK(unfinished_writes(library.store.folder()) == 0);
}
