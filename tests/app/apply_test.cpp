#include "app/apply.hpp"

#include <doctest.h>

#include "app/cards.hpp"
#include "desk.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

TEST_CASE("the division's poses stand as cards in call order, with what was held") {
    const ReviewState state = desk();
    const auto cards = cards_of(state);
    REQUIRE(cards.size() >= 4);
    CHECK(cards[0].pose == "quarter_front");
    CHECK(cards[1].pose == "quarter_left_side");
    CHECK(*cards[0].hold_s == doctest::Approx(6));
    CHECK(cards[0].still_pts == 5000);
    CHECK_FALSE(cards[2].hold_s);
    CHECK(cards[2].target_s.has_value());
}

TEST_CASE("a pinned note is typed at once, is one step of undo, and is kept from its first letter") {
    ReviewState state = desk();
    REQUIRE(apply(state, Seek{3000}));
    REQUIRE(apply(state, PinNote{}));
    CHECK(state.desk.typing);
    CHECK(state.desk.card == "quarter_front");
    take<Request::Save>(state);
    const std::string id = *state.desk.note;
    for (const char* text : {"E", "El", "Elbows level"}) REQUIRE(apply(state, TypeNote{id, text}));
    CHECK(take<Request::Save>(state).size() == 3);
    REQUIRE(state.library->notes.size() == 1);
    CHECK(state.library->notes[0].text == "Elbows level");
    CHECK(state.library->notes[0].moment->start_pts == 3000);
    CHECK(state.library->notes[0].pose == "quarter_front");
    CHECK(state.library->notes[0].author.name == "Mara");
    REQUIRE(apply(state, FinishTyping{}));
    REQUIRE(apply(state, Undo{}));
    CHECK(state.library->notes.empty());
    REQUIRE(apply(state, Redo{}));
    CHECK(state.library->notes[0].text == "Elbows level");
    CHECK_FALSE(apply(state, Redo{}));
}

TEST_CASE("a note that was never written leaves nothing behind") {
    ReviewState state = desk();
    REQUIRE(apply(state, PinNote{}));
    REQUIRE(apply(state, TypeNote{*state.desk.note, "  "}));
    REQUIRE(apply(state, FinishTyping{}));
    CHECK(state.library->notes.empty());
    CHECK_FALSE(state.desk.note);
}

TEST_CASE("a stretch is pinned from either end") {
    ReviewState state = desk();
    CHECK_FALSE(apply(state, StretchTo{}));
    REQUIRE(apply(state, Seek{12000}));
    REQUIRE(apply(state, StretchFrom{}));
    REQUIRE(apply(state, Seek{11000}));
    REQUIRE(apply(state, StretchTo{}));
    CHECK(state.draft->note.moment->start_pts == 11000);
    CHECK(state.draft->note.moment->end_pts == 12000);
}

TEST_CASE("dragging a hold's end corrects it, undo gives the measured one back") {
    ReviewState state = desk();
    REQUIRE(apply(state, DragBound{0, true, 7000}));
    REQUIRE(apply(state, DragBound{0, true, 6500}));
    CHECK(state.library->hold_corrections.empty());
    REQUIRE(apply(state, DropBound{}));
    REQUIRE(state.library->hold_corrections.size() == 1);
    CHECK(state.clip->spans[0].range == journal::PtsRange{2000, 6500});
    CHECK(*cards_of(state)[0].hold_s == doctest::Approx(4.5));
    CHECK(state.clip->measured->segments[0].end_pts == 8000);
    REQUIRE(apply(state, Undo{}));
    CHECK(state.clip->spans[0].range == journal::PtsRange{2000, 8000});
}

TEST_CASE("an end is never dragged past the other one") {
    ReviewState state = desk();
    REQUIRE(apply(state, DragBound{0, true, 500}));
    CHECK(state.desk.drag->pts == 2001);
}

TEST_CASE("holds can be named, split, joined, removed, added, and taken back to the measured ones") {
    ReviewState state = desk();
    REQUIRE(apply(state, Relabel{0, "quarter_back"}));
    CHECK(state.clip->spans[0].pose == "quarter_back");
    REQUIRE(apply(state, SplitAt{0, 5000}));
    CHECK(state.clip->spans[0].range.end == 5000);
    CHECK(state.clip->spans[1].range.start == 5000);
    CHECK_FALSE(apply(state, SplitAt{0, 9000}));
    REQUIRE(apply(state, JoinNext{0}));
    CHECK(state.clip->spans[0].range == journal::PtsRange{2000, 8000});
    REQUIRE(apply(state, RemoveHold{0}));
    CHECK_FALSE(state.clip->spans[0].is_hold);
    CHECK_FALSE(apply(state, AddHold{12000, std::nullopt}));
    REQUIRE(apply(state, AddHold{18000, std::string("quarter_back")}));
    CHECK(state.clip->spans[*state.desk.span].pose == "quarter_back");
    while (apply(state, Undo{})) {
    }
    CHECK(state.library->hold_corrections.empty());
    REQUIRE(apply(state, Relabel{0, "quarter_back"}));
    REQUIRE(apply(state, BackToMeasured{0}));
    CHECK(state.clip->spans[0].pose == "quarter_front");
}

TEST_CASE("a mark is given, taken back by giving it again, and undone") {
    ReviewState state = desk();
    const std::string item = cards_of(state)[0].expected->items[0].id;
    const auto own = [&] { return checklist_of(state, cards_of(state)[0])[0].own; };
    REQUIRE(apply(state, SetMark{"quarter_front", item, 3}));
    CHECK(own() == 3);
    REQUIRE(apply(state, SetMark{"quarter_front", item, 4}));
    CHECK(own() == 4);
    REQUIRE(apply(state, SetMark{"quarter_front", item, 4}));
    CHECK_FALSE(own());
    REQUIRE(apply(state, Undo{}));
    REQUIRE(apply(state, Undo{}));
    CHECK(own() == 3);
}

TEST_CASE("a clip outside a library can be looked at, and says why nothing can be kept") {
    ReviewState state = desk();
    state.clip->in_library = false;
    CHECK(apply(state, PinNote{}).error().detail.find("library") != std::string::npos);
    REQUIRE(apply(state, DragBound{0, true, 7000}));
    CHECK_FALSE(apply(state, DropBound{}));
    CHECK(apply(state, Seek{3000}));
}

TEST_CASE("keys step, jump and change the speed") {
    ReviewState state = desk();
    const auto press = [&](Action action) { REQUIRE(apply(state, Press{action})); };
    press(Action::next_picture);
    CHECK(state.playing.pts == 33);
    press(Action::previous_picture);
    press(Action::previous_picture);
    CHECK(state.playing.pts == 0);
    press(Action::next_hold);
    CHECK(state.playing.pts == 2000);
    press(Action::next_hold);
    CHECK(state.playing.pts == 10000);
    press(Action::previous_hold);
    CHECK(state.playing.pts == 2000);
    press(Action::next_transition);
    CHECK(state.playing.pts == 8000);
    for (int i = 0; i < 20; ++i) press(Action::slower);
    CHECK(state.playing.speed == doctest::Approx(0.1));
    for (int i = 0; i < 20; ++i) press(Action::faster);
    CHECK(state.playing.speed == doctest::Approx(2));
    press(Action::play_or_pause);
    CHECK(state.playing.running);
    press(Action::next_picture);
    CHECK_FALSE(state.playing.running);
    press(Action::repeat_hold);
    CHECK(state.playing.repeat == journal::PtsRange{2000, 8000});
    press(Action::repeat_hold);
    CHECK_FALSE(state.playing.repeat);
    press(Action::next_hold);
    press(Action::repeat_hold);
    CHECK(state.playing.repeat == journal::PtsRange{10000, 16000});
}

TEST_CASE("what was drawn belongs to a note and can be undone") {
    ReviewState state = desk();
    REQUIRE(apply(state, Seek{3000}));
    REQUIRE(apply(state, TakeTool{DrawingKind::ring}));
    REQUIRE(apply(state, DrawPoint{{0.5, 0.5}}));
    REQUIRE(apply(state, DrawOn{{0.6, 0.5}}));
    REQUIRE(apply(state, DrawEnd{}));
    REQUIRE(state.library->notes.size() == 1);
    CHECK(read_drawing(state.library->notes[0].drawings[0])->kind == DrawingKind::ring);
    REQUIRE(apply(state, TakeTool{DrawingKind::level}));
    REQUIRE(apply(state, DrawPoint{{0.5, 0.3}}));
    REQUIRE(apply(state, DrawEnd{}));
    CHECK(state.library->notes.size() == 1);
    CHECK(state.library->notes[0].drawings.size() == 2);
    REQUIRE(apply(state, Undo{}));
    CHECK(state.library->notes[0].drawings.size() == 1);
}

TEST_CASE("a change from outside arrives, and what is not saved yet stays on screen") {
    ReviewState state = desk();
    REQUIRE(apply(state, PinNote{}));
    REQUIRE(apply(state, TypeNote{*state.desk.note, "ours"}));
    const std::uint64_t number = state.pending.back().number;
    journal::Library outside = desk().library.value();
    journal::Note theirs;
    theirs.id = "theirs";
    theirs.text = "theirs";
    theirs.clip = state.clip->fingerprint;
    outside.notes.push_back(theirs);
    absorb(state, LibraryRead{state.library_folder, outside, number - 1, false});
    CHECK(state.library->notes.size() == 2);
    outside.notes.push_back(*state.library->find_note(*state.desk.note));
    absorb(state, LibraryRead{state.library_folder, outside, number, false});
    CHECK(state.library->notes.size() == 2);
    CHECK(state.saved());
}

TEST_CASE("notes are found by their words in any case and script, by topic and by what is to do") {
    ReviewState state = desk();
    journal::Note note;
    note.id = "1";
    note.clip = state.clip->fingerprint;
    note.text = "Плечи ВЫШЕ, elbows level";
    note.topic = rules::Topic::hands;
    CHECK(matches(note, "плечи"));
    CHECK(matches(note, "LEVEL выше"));
    CHECK(matches(note, "hands"));
    CHECK_FALSE(matches(note, "knees"));
    state.library->notes = {note};
    Card card;
    CHECK(notes_of(state, card).size() == 1);
    REQUIRE(apply(state, FilterNotes{NoteFilter::done, std::nullopt}));
    CHECK(notes_of(state, card).empty());
}
