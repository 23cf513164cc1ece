#include <doctest.h>

#include "desk.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

// Two seasons: an earlier one with a session, and the desk's, with two sessions and a clip and a note more.
ReviewState shelf() {
    ReviewState state = desk();
    journal::Library& library = *state.library;
    journal::Season earlier = library.seasons[0];
    earlier.id = "earlier";
    earlier.show_date = *parse_date("2025-05-31");
    library.seasons.insert(library.seasons.begin(), earlier);
    const auto session = [&](const char* id, const char* season, const char* date) {
        journal::Session made;
        made.id = id;
        made.season = season;
        made.date = *parse_date(date);
        return made;
    };
    library.sessions = {session("old", "earlier", "2025-03-08"), session("session", "season", "2026-03-07"),
                        session("later", "season", "2026-03-14")};
    journal::Clip second = library.clips[0];
    second.id = "sha256:" + std::string(64, 'b');
    library.clips.push_back(second);
    journal::Note note;
    note.id = "note";
    note.session = "session";
    note.clip = library.clips[0].id;
    note.text = "Hands";
    library.notes.push_back(note);
    state.season = "season";
    REQUIRE(apply(state, GoTo{Place::library}));
    state.requests.clear();
    return state;
}

}  // namespace

TEST_CASE("a clip is moved to a session of another season with its notes, and undo brings all back") {
    ReviewState state = shelf();
    const std::string clip = state.clip->fingerprint;
    REQUIRE(apply(state, MoveClip{clip, "old"}));
    CHECK(state.library->find_clip(clip)->session == "old");
    CHECK(state.library->find_note("note")->session == "old");
    CHECK(state.season == "earlier");
    CHECK(state.clip->session == "old");
    CHECK_FALSE(state.clip->measured);  // another season may ask for another division
    const auto saves = take<Request::Save>(state);
    REQUIRE(saves.size() == 1);
    CHECK(saves[0].edit.changes.size() == 2);
    REQUIRE(apply(state, Undo{}));
    CHECK(state.library->find_clip(clip)->session == "session");
    CHECK(state.library->find_note("note")->session == "session");
    CHECK(state.clip->session == "session");
    CHECK_FALSE(apply(state, MoveClip{clip, "nowhere"}));
}

TEST_CASE("keys choose a clip, open it, and point at the session it goes to") {
    ReviewState state = shelf();
    const auto press = [&](Action action) { REQUIRE(apply(state, Press{action})); };
    const auto [first, second] = std::pair{state.library->clips[0].id, state.library->clips[1].id};
    press(Action::next_clip);
    CHECK(state.library_clip == first);
    press(Action::next_clip);
    CHECK(state.library_clip == second);
    press(Action::next_clip);
    CHECK(state.library_clip == second);
    press(Action::open_clip);
    CHECK(take<Request::OpenFilm>(state)[0].fingerprint == second);

    press(Action::move_clip);
    REQUIRE(state.moving);
    CHECK(state.moving->session == "session");
    press(Action::next_clip);  // the latest season first and in it the latest session
    CHECK(state.moving->session == "old");
    press(Action::previous_clip);
    press(Action::previous_clip);
    CHECK(state.moving->session == "later");
    press(Action::leave);
    CHECK_FALSE(state.moving);
    CHECK(state.library->find_clip(second)->session == "session");
    press(Action::move_clip);
    press(Action::previous_clip);
    press(Action::open_clip);
    CHECK(state.library->find_clip(second)->session == "later");
    CHECK(state.season == "season");
    press(Action::undo);
    CHECK(state.library->find_clip(second)->session == "session");
}

TEST_CASE("keys change seasons and what counts, and take a clip out") {
    ReviewState state = shelf();
    const auto press = [&](Action action) { REQUIRE(apply(state, Press{action})); };
    press(Action::previous_season);
    CHECK(state.season == "earlier");
    press(Action::next_season);
    CHECK(state.season == "season");
    press(Action::next_clip);
    press(Action::clip_counts);
    CHECK_FALSE(state.library->find_clip(state.library_clip)->counts);
    press(Action::turn_mirrored_film);
    CHECK(state.library->find_clip(state.library_clip)->mirrored);
    press(Action::measure_clip);
    CHECK(take<Request::Analyse>(state).size() == 1);
    const std::string gone = state.library_clip;
    press(Action::take_clip_out);
    CHECK(state.library->find_clip(gone) == nullptr);
    press(Action::undo);
    CHECK(state.library->find_clip(gone) != nullptr);
}

TEST_CASE("on the clip page the next clip opens, and moving leads to the library") {
    ReviewState state = shelf();
    REQUIRE(apply(state, GoTo{Place::clip}));
    REQUIRE(apply(state, Press{Action::next_clip}));
    CHECK(take<Request::OpenFilm>(state)[0].fingerprint == state.library->clips[1].id);
    REQUIRE(apply(state, Press{Action::move_clip}));
    CHECK(state.place == Place::library);
    REQUIRE(state.moving);
    CHECK(state.moving->clip == state.clip->fingerprint);
}
