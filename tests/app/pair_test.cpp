// The page with two takes, without a window: commands on plain state.
#include "app/pair.hpp"

#include <doctest.h>

#include <cmath>

#include "app/body_outline.hpp"
#include "body/landmarks.hpp"
#include "two_takes.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

TEST_CASE("comparing starts from the open clip's session and shows the stills of the first pair") {
    TwoTakes two;
    CHECK(two.state.place == Place::pair);
    CHECK(two.state.pair.now->session == "session");
    REQUIRE(two.state.pair.made->made.pairs.size() == 2);
    CHECK(two.shown.now_pts == 5000);
    CHECK(two.shown.before_pts == 7480);  // the picture on screen at 7.5 s
}

TEST_CASE("without an earlier season in the library the person is told what to do, and nothing is lost") {
    ReviewState state = desk();
    CHECK(apply(state, GoTo{Place::pair}));
    const auto asked = take<Request::Compare>(state);
    REQUIRE(asked.size() == 1);
    absorb(state, PairCompared{asked[0].number, nullptr, "There is no earlier season in this library."});
    CHECK_FALSE(state.pair.trouble.empty());
    CHECK_FALSE(state.pair.working);
    CHECK(state.clip.has_value());
}

TEST_CASE("keys walk through the pairs and stop at the ends") {
    TwoTakes two;
    CHECK(two.press(Action::next_hold));
    two.answer();
    CHECK(two.state.pair.pair == 1);
    CHECK(two.shown.now_pts == 13000);
    CHECK(two.press(Action::next_hold));
    CHECK(two.state.pair.pair == 1);
    CHECK(two.press(Action::previous_hold));
    CHECK(two.state.pair.pair == 0);
}

TEST_CASE("every way of looking has a key, and its amount another") {
    TwoTakes two;
    CHECK(two.press(Action::look_edge));
    CHECK(two.state.pair.look == PairLook::edge);
    CHECK(two.press(Action::look_more));
    CHECK(two.state.pair.edge == doctest::Approx(0.45));  // more of the earlier one, which is right of it
    CHECK(two.press(Action::look_over));
    for (int i = 0; i < 30; ++i) CHECK(two.press(Action::look_more));
    CHECK(two.state.pair.opacity == 1);
    CHECK(two.press(Action::look_outline));
    CHECK(two.state.pair.look == PairLook::outline);
    CHECK(two.press(Action::look_blink));
    CHECK(two.state.pair.look == PairLook::blink);
    CHECK(two.press(Action::look_beside));
    CHECK(two.state.pair.look == PairLook::beside);
}

TEST_CASE("a fine offset goes on from what is on screen, one picture of the earlier film at a time") {
    TwoTakes two;
    CHECK(two.press(Action::earlier_later));
    two.answer();
    CHECK(two.shown.now_pts == 5000);
    CHECK(two.shown.before_pts == 7520);
    CHECK(two.press(Action::offsets_off));
    two.answer();
    CHECK(two.state.pair.offset.before_s == 0);
    CHECK(two.shown.before_pts == 7480);
}

TEST_CASE("by hold both run at their own speed from the hold's start; followed, the earlier one keeps up") {
    TwoTakes two;
    CHECK(apply(two.state, PairCommand{pairing::Seek{4}}));
    CHECK(two.state.pair.due()->before_s == doctest::Approx(6));  // a third into the hold in both
    CHECK(two.press(Action::change_sync));
    CHECK(two.state.pair.due()->before_s == doctest::Approx(5));  // two seconds into it in both
}

TEST_CASE("playing is asked for once, and the chosen pair follows the clock") {
    TwoTakes two;
    CHECK(two.press(Action::play_or_pause));
    CHECK(two.state.pair.running);
    CHECK(take<Request::PlayPair>(two.state).size() == 1);
    pair_clock_moved(two.state, 12);
    CHECK(two.state.pair.pair == 1);
    CHECK(two.press(Action::play_or_pause));
    CHECK(take<Request::PausePair>(two.state).size() == 1);
    CHECK(apply(two.state, GoTo{Place::clip}));
    CHECK(two.state.place == Place::clip);
}

TEST_CASE("two moments pinned together are kept, bind the times, and undo takes them back") {
    TwoTakes two;
    CHECK(apply(two.state, PairCommand{pairing::Seek{9}}));
    CHECK(apply(two.state, PairCommand{pairing::ShiftBy{0, 0.4}}));
    const double wanted = two.state.pair.due()->before_s;
    CHECK(two.press(Action::pin_together));
    CHECK(take<Request::Save>(two.state).size() == 1);
    REQUIRE(two.state.library->pins.size() == 1);
    CHECK(two.state.library->pins[0].kind == journal::PinKind::moments);
    CHECK(two.state.pair.offset.before_s == 0);
    // The job is asked again with the sides it has: nothing is measured twice.
    ++two.state.pair.number;
    two.compared({*two.state.pair.now, two.state.pair.before, two.state.pair.made, two.state.pair.number});
    two.answer();
    CHECK(two.state.pair.due()->before_s == doctest::Approx(wanted).epsilon(0.005));
    CHECK(apply(two.state, Undo{}));
    CHECK(two.state.library->pins.empty());
    CHECK(two.answer());
    CHECK(apply(two.state, Redo{}));
    CHECK(two.state.library->pins.size() == 1);
}

TEST_CASE("a corrected pair stays corrected, and a later word about the hold replaces it") {
    TwoTakes two;
    CHECK(two.press(Action::next_counterpart));
    CHECK(two.answer());
    REQUIRE(two.state.pair.chosen() != nullptr);
    CHECK(two.state.pair.chosen()->pair.before.segment == 2);
    CHECK(two.state.pair.chosen()->pair.by_person);
    CHECK(two.press(Action::no_counterpart));
    CHECK(two.answer());
    CHECK(two.state.library->pins.size() == 1);
    CHECK(two.state.library->pins[0].kind == journal::PinKind::alone);
    for (const auto& pair : two.state.pair.made->made.pairs) CHECK(pair.pair.now.segment != 0);
    CHECK(apply(two.state, Undo{}));
    CHECK(two.answer());
    CHECK(two.state.library->pins.size() == 1);
    CHECK(two.state.library->pins[0].kind == journal::PinKind::holds);
}

TEST_CASE("a film that seems to be mirrored is marked so by one key, compared again, and undone") {
    TwoTakes alike;
    CHECK_FALSE(alike.press(Action::turn_mirrored_film));
    TwoTakes two({compare::MirrorHint::before, "The turns of the earlier film go the other way."});
    CHECK(two.press(Action::turn_mirrored_film));
    CHECK(two.state.library->find_clip(before_clip)->mirrored);
    CHECK_FALSE(two.state.library->clips.front().mirrored);
    two.mirror = {};
    CHECK(two.answer());
    CHECK(two.state.pair.made->made.mirror.film == compare::MirrorHint::none);
    CHECK(two.press(Action::undo));
    CHECK_FALSE(two.state.library->find_clip(before_clip)->mirrored);
    CHECK(two.answer());
}

TEST_CASE("hidden body numbers hide widths and the outline") {
    TwoTakes two;
    CHECK(apply(two.state, HideBodyNumbers{true}));
    CHECK(two.answer());
    for (const auto& pair : two.state.pair.made->made.pairs)
        for (const auto& d : pair.differences) CHECK_FALSE(compare::is_silhouette(d.measure));
    CHECK_FALSE(apply(two.state, Press{Action::look_outline}));
    CHECK(two.state.pair.look == PairLook::beside);
}

TEST_CASE("the table says in words what is more than the measuring error") {
    TwoTakes two;
    const auto lines = difference_lines(two.state.pair.made->made, *two.state.pair.chosen());
    REQUIRE_FALSE(lines.empty());
    CHECK(lines[0].title == "Hold, s");
    CHECK(lines[0].now == "6.0");
    CHECK(lines[0].before == "9.0");
    CHECK(lines[0].difference == "-3.0");
    CHECK(lines[0].beyond);
    CHECK(lines[0].verdict == "less");
}

TEST_CASE("an old comparison that comes late is not shown") {
    TwoTakes two;
    const auto made = two.state.pair.made;
    absorb(two.state, PairCompared{two.state.pair.number - 1, nullptr, "too late"});
    CHECK(two.state.pair.made == made);
    CHECK(two.state.pair.trouble.empty());
}

TEST_CASE("places of the later picture are found in the earlier one, fitted where nothing is aligned") {
    TwoTakes two;
    // The earlier film is half as large and as wide as high: it is fitted by its width.
    two.state.pair.films->before_info.width = two.state.pair.films->before_info.height = 216;
    const compare::Affine map = to_earlier_picture(two.state.pair);
    const auto at = [&](double x, double y) {
        return std::pair{map[0] * x + map[1] * y + map[2], map[3] * x + map[4] * y + map[5]};
    };
    CHECK(at(0.5, 0.5).first == doctest::Approx(0.5));
    CHECK(at(0.5, 0.5).second == doctest::Approx(0.5));
    CHECK(at(0, 0.5).first == doctest::Approx(0));
    CHECK(at(0.5, 0).second < 0);
}

TEST_CASE("the outline goes round the whole body and leaves no gap") {
    body::CourseFrame frame;
    frame.present = true;
    frame.height_px = 600;
    const auto put = [&](body::Joint joint, double x, double y) {
        frame.points[static_cast<std::size_t>(joint)] = {x, y, 1};
    };
    put(body::Joint::nose, 200, 100);
    put(body::Joint::left_shoulder, 250, 170), put(body::Joint::right_shoulder, 150, 170);
    put(body::Joint::left_hip, 230, 350), put(body::Joint::right_hip, 170, 350);
    put(body::Joint::left_knee, 230, 500), put(body::Joint::right_knee, 170, 500);
    put(body::Joint::left_ankle, 230, 640), put(body::Joint::right_ankle, 170, 640);
    const auto lines = body_outline(frame);
    REQUIRE(lines.size() > 100);
    double top = 1e9, bottom = 0;
    for (const auto& [a, b] : lines) {
        top = std::min(top, a.y), bottom = std::max(bottom, a.y);
        // A closed line: every end is the beginning of another piece.
        int met = 0;
        for (const auto& [c, d] : lines)
            met += std::hypot(b.x - c.x, b.y - c.y) < 0.01 || std::hypot(b.x - d.x, b.y - d.y) < 0.01;
        CHECK(met == 2);
    }
    CHECK(top < 70);
    CHECK(bottom > 640);
}

TEST_CASE("the outline is traced when it is looked at while paused, not while playing") {
    TwoTakes two;
    CHECK(take<Request::TraceOutline>(two.state).empty());
    CHECK(two.press(Action::look_outline));
    const auto asked = take<Request::TraceOutline>(two.state);
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].pts == 7480);
    CHECK(two.press(Action::play_or_pause));
    CHECK(take<Request::TraceOutline>(two.state).empty());
    CHECK(two.press(Action::play_or_pause));
    CHECK(take<Request::TraceOutline>(two.state).size() == 1);
}
