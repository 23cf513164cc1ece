// Two programs at once on one library lose no edit.
#include <doctest.h>

#include <set>
#include <thread>

#include "child_process.hpp"
#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

namespace {

using Tell = std::function<void(const std::string&)>;

/// Appends a word to the one shared note, reading again whenever somebody else was faster.
bool append(Store& store, const std::string& note_id, const std::string& word, const Author& author) {
    for (;;) {
        const auto library = store.read();
        if (!library || library->find_note(note_id) == nullptr) return false;
        Note note = *library->find_note(note_id);
        note.text += " " + word;
        const auto edited = store.edit_note(note, author);
        if (edited) return true;
        if (edited.error().code != ErrorCode::conflict) return false;
    }
}

int append_words(const std::filesystem::path& folder, const std::string& note, const std::string& who, int count) {
    auto store = Store::open(folder);
    if (!store) return 1;
    for (int i = 0; i < count; ++i) {
        if (!append(*store, note, who + std::to_string(i), {who, Role::coach})) return 2;
    }
    return 0;
}

std::set<std::string> words_of(const std::string& text) {
    std::set<std::string> words;
    std::size_t from = 0;
    while (from < text.size()) {
        const std::size_t end = std::min(text.find(' ', from), text.size());
        words.insert(text.substr(from, end - from));
        from = end + 1;
    }
    return words;
}

}  // namespace

TEST_CASE("two programs that change the same note lose no word") {
    LibraryFixture library;
    const Note note = library.store.add_note(library.note("start"), athlete).value();
    constexpr int count = 60;
    {
        ChildProcess one{[&](const Tell&) { return append_words(library.store.folder(), note.id, "one", count); }};
        ChildProcess two{[&](const Tell&) { return append_words(library.store.folder(), note.id, "two", count); }};
        CHECK(one.wait() == 0);
        CHECK(two.wait() == 0);
    }
    const Note result = *library.read().find_note(note.id);
    CHECK(words_of(result.text).size() == 1 + 2 * count);
    std::int64_t edits = 0;
    for (const auto& [place, made] : result.edits) edits += made;
    CHECK(edits == 1 + 2 * count);
}

TEST_CASE("two programs that mark the same sheet lose no mark") {
    LibraryFixture library;
    constexpr int count = 60;
    const auto mark_all = [&](const std::string& pose) {
        auto store = Store::open(library.store.folder());
        if (!store) return 1;
        for (int i = 0; i < count; ++i) {
            Mark mark;
            mark.session = library.session;
            mark.pose = pose;
            mark.item = "item_" + std::to_string(i);
            mark.author = coach;
            mark.value = i % 5;
            if (!store->set_mark(mark)) return 2;
        }
        return 0;
    };
    {
        ChildProcess one{[&](const Tell&) { return mark_all("quarter_front"); }};
        ChildProcess two{[&](const Tell&) { return mark_all("quarter_back"); }};
        CHECK(one.wait() == 0);
        CHECK(two.wait() == 0);
    }
    CHECK(library.read().marks.size() == 2 * count);
}

TEST_CASE("two programs that add the same films make each session and clip once") {
    LibraryFixture library;
    std::vector<ClipFacts> films;
    for (const char digit : std::string{"bcdef0123456789"}) {
        films.push_back(film(digit, std::string{digit} + ".mp4"));
        films.back().recorded_at = a_morning() - std::chrono::hours{24 * (1 + digit % 4)};
    }
    const auto add = [&] {
        auto store = Store::open(library.store.folder());
        return store && store->add_clips(library.season.id, films, utc(), athlete) ? 0 : 1;
    };
    {
        ChildProcess one{[&](const Tell&) { return add(); }};
        ChildProcess two{[&](const Tell&) { return add(); }};
        CHECK(one.wait() == 0);
        CHECK(two.wait() == 0);
    }
    const Library read = library.read();
    CHECK(read.clips.size() == 1 + films.size());
    CHECK(read.sessions.size() == 1 + 4);
    CHECK(read.unreadable.empty());
}

TEST_CASE("threads share one store") {
    LibraryFixture library;
    {
        std::vector<std::jthread> threads;
        for (int i = 0; i < 4; ++i) {
            threads.emplace_back([&] {
                for (int j = 0; j < 10; ++j) {
                    (void)library.store.add_note(library.note("from a thread"), athlete).has_value();
                    (void)library.store.read().has_value();
                    (void)library.store.revision();
                }
            });
        }
    }
    CHECK(library.read().notes.size() == 40);
}
