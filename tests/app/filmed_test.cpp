#include "app/filmed.hpp"

#include <doctest.h>

#include "app/measured_mark.hpp"
#include "desk.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

const journal::Clip& entry(const ReviewState& state) {
    return *state.library->find_clip(state.clip->fingerprint);
}

// What the last edit would put on disk.
journal::Clip saved(ReviewState& state) {
    const auto saves = take<Request::Save>(state);
    REQUIRE_FALSE(saves.empty());
    const auto* change = std::get_if<EntryChange<journal::Clip>>(&saves.back().edit.changes.front());
    REQUIRE(change != nullptr);
    REQUIRE(change->after);
    return *change->after;
}

bool asked_for(const ReviewState& state, const char* what) {
    for (const auto& request : state.requests) {
        if (std::string(what) == "look up" && std::holds_alternative<Request::LookUp>(request)) return true;
        if (std::string(what) == "check" && std::holds_alternative<Request::CheckMeasured>(request)) return true;
        if (std::string(what) == "measure" && std::holds_alternative<Request::Analyse>(request)) return true;
        if (std::string(what) == "show" && std::holds_alternative<Request::Show>(request)) return true;
        if (std::string(what) == "cancel" && std::holds_alternative<Request::Cancel>(request)) return true;
    }
    return false;
}

}  // namespace

TEST_CASE("a tilt is kept, shown, and what was measured without it goes until undo brings it back") {
    ReviewState state = desk();
    const posing::Analysis as_it_was = *state.clip->measured;
    state.requests.clear();
    REQUIRE(apply(state, TiltFilm{2.5}));
    CHECK(entry(state).tilt_deg == 2.5);
    CHECK(state.desk.zooming.tilt_deg == 2.5);
    CHECK_FALSE(state.clip->measured);
    CHECK(asked_for(state, "look up"));
    CHECK(asked_for(state, "check"));
    CHECK_FALSE(asked_for(state, "measure"));
    CHECK(saved(state).tilt_deg == 2.5);
    // Nothing that was measured without the tilt is taken in.
    Filmed without = state.clip->filmed;
    without.tilt_deg.reset();
    absorb(state, LookedUp{state.clip->fingerprint, without, std::nullopt, as_it_was});
    CHECK_FALSE(state.clip->measured);

    REQUIRE(apply(state, Undo{}));
    CHECK_FALSE(entry(state).tilt_deg);
    CHECK(state.desk.zooming.tilt_deg == 0);
    CHECK(asked_for(state, "look up"));
    absorb(state, LookedUp{state.clip->fingerprint, state.clip->filmed, std::nullopt, as_it_was});
    REQUIRE(state.clip->measured);
    CHECK(state.clip->spans.size() == 3);
    CHECK_FALSE(apply(state, TiltFilm{45}));
    CHECK_FALSE(apply(state, TiltFilm{-45}));
    CHECK_FALSE(entry(state).tilt_deg);
}

TEST_CASE("a film said to be level is not one whose tilt is estimated") {
    ReviewState state = desk();
    state.requests.clear();
    REQUIRE(apply(state, TiltFilm{0}));
    CHECK(entry(state).tilt_deg == 0);
    CHECK_FALSE(state.clip->measured);  // it was with an estimated upright
    CHECK(asked_for(state, "look up"));
    CHECK(saved(state).tilt_deg == 0);
    REQUIRE(apply(state, TiltFilm{std::nullopt}));
    CHECK_FALSE(entry(state).tilt_deg);
    CHECK_FALSE(saved(state).tilt_deg);
}

TEST_CASE("a turned film is shown turned, and the athlete stays where she was shown") {
    ReviewState state = desk();
    const double aspect = state.clip->aspect();
    REQUIRE(apply(state, ShowAthlete{{0.25, 0.4}}));
    state.requests.clear();
    REQUIRE(apply(state, TurnFilm{-90}));
    CHECK(asked_for(state, "show"));
    CHECK(state.clip->info.rotation_deg == -90);
    CHECK(state.clip->aspect() == doctest::Approx(1 / aspect));
    // A quarter turn to the right brings the left edge to the top: what was 0.25 from the left is 0.25 from the top.
    CHECK(entry(state).athlete_at->x == doctest::Approx(0.6));
    CHECK(entry(state).athlete_at->y == doctest::Approx(0.25));
    CHECK(saved(state).rotation_deg == -90);
    REQUIRE(apply(state, TurnFilm{std::nullopt}));
    CHECK(state.clip->info.rotation_deg == state.clip->file_rotation_deg);
    CHECK(entry(state).athlete_at->x == doctest::Approx(0.25));
    CHECK(entry(state).athlete_at->y == doctest::Approx(0.4));
}

TEST_CASE("slow motion changes the seconds, not the pictures") {
    ReviewState state = desk();
    const double length = state.clip->duration_s();
    REQUIRE(apply(state, Seek{5000}));
    const std::int64_t pts = state.playing.pts;
    REQUIRE(apply(state, SetTimeScale{0.25}));
    CHECK(state.clip->duration_s() == doctest::Approx(length / 4));
    CHECK(state.desk.ribbon.length_s == doctest::Approx(length / 4));
    CHECK(state.playing.pts == pts);
    CHECK(entry(state).speed_source == journal::SpeedSource::given);
    CHECK(saved(state).time_scale == 0.25);
    CHECK_FALSE(apply(state, SetTimeScale{0}));
    REQUIRE(apply(state, Undo{}));
    CHECK(state.clip->duration_s() == doctest::Approx(length));
    CHECK(entry(state).speed_source == journal::SpeedSource::assumed);
}

TEST_CASE("a mirrored film is mirrored on screen") {
    ReviewState state = desk();
    REQUIRE(apply(state, SetMirrored{true}));
    CHECK(state.desk.zooming.mirrored);
    CHECK(saved(state).mirrored);
    REQUIRE(apply(state, Undo{}));
    CHECK_FALSE(state.desk.zooming.mirrored);
}

TEST_CASE("a press on the picture says who the athlete is, starts measuring, and can be taken back") {
    ReviewState state = desk();
    REQUIRE(apply(state, Seek{3000}));
    REQUIRE(apply(state, AskForAthlete{true}));
    REQUIRE(state.desk.athlete_aim);
    CHECK_FALSE(apply(state, ShowAthlete{{1.2, 0.5}}));
    CHECK(state.desk.athlete_aim);
    state.requests.clear();
    REQUIRE(apply(state, ShowAthlete{{0.3, 0.6}}));
    CHECK_FALSE(state.desk.athlete_aim);
    CHECK(asked_for(state, "measure"));
    const auto shown = *entry(state).athlete_at;
    CHECK(shown.pts == state.playing.pts);
    CHECK(shown.base == state.clip->index->time_base);
    CHECK(shown.x == 0.3);
    CHECK(shown.y == 0.6);
    REQUIRE(apply(state, FollowAnyone{}));
    CHECK_FALSE(entry(state).athlete_at);
    REQUIRE(apply(state, Undo{}));
    CHECK(entry(state).athlete_at == shown);
    REQUIRE(apply(state, Undo{}));
    CHECK_FALSE(entry(state).athlete_at);
}

TEST_CASE("keys move the cross to the athlete, also on a mirrored screen") {
    ReviewState state = desk();
    state.desk.zooming.mirrored = true;
    const std::int64_t pts = state.playing.pts;
    REQUIRE(apply(state, Press{Action::show_athlete}));
    const Spot start = *state.desk.athlete_aim;
    REQUIRE(apply(state, Press{Action::next_picture}));
    CHECK(state.desk.athlete_aim->x < start.x);
    REQUIRE(apply(state, Press{Action::next_hold}));
    CHECK(state.desk.athlete_aim->y > start.y);
    CHECK(state.playing.pts == pts);
    const Spot aim = *state.desk.athlete_aim;
    REQUIRE(apply(state, Press{Action::play_or_pause}));
    CHECK_FALSE(state.playing.running);
    REQUIRE(entry(state).athlete_at);
    CHECK(entry(state).athlete_at->x == aim.x);
    REQUIRE(apply(state, Press{Action::show_athlete}));
    REQUIRE(apply(state, Press{Action::leave}));
    CHECK_FALSE(state.desk.athlete_aim);
}

TEST_CASE("keys reach everything about how a clip was filmed") {
    ReviewState state = desk();
    const auto press = [&](Action action) { REQUIRE(apply(state, Press{action})); };
    press(Action::show_filmed);
    CHECK(state.desk.filmed_open);
    press(Action::turn_film);
    CHECK(entry(state).rotation_deg == 0);
    press(Action::turn_film);
    CHECK(entry(state).rotation_deg == 90);
    for (int i = 0; i < 3; ++i) press(Action::turn_film);
    CHECK_FALSE(entry(state).rotation_deg);
    press(Action::tilt_right);
    press(Action::tilt_right);
    press(Action::tilt_left);
    CHECK(entry(state).tilt_deg == 0.5);
    press(Action::tilt_left);
    CHECK(entry(state).tilt_deg == 0);
    press(Action::tilt_estimated);
    CHECK_FALSE(entry(state).tilt_deg);
    for (const double scale : {0.5, 0.25, 0.125, 1.0}) {
        press(Action::film_speed);
        CHECK(entry(state).time_scale == scale);
    }
    press(Action::turn_mirrored_film);
    CHECK(entry(state).mirrored);
    state.requests.clear();
    press(Action::measure_clip);
    CHECK(asked_for(state, "measure"));
    press(Action::leave);
    CHECK_FALSE(state.desk.filmed_open);
}

TEST_CASE("a clip outside a library says why its settings cannot be kept") {
    ReviewState state = desk();
    state.library.reset();
    state.clip->in_library = false;
    for (const Command& command : Commands{TiltFilm{1}, TurnFilm{90}, SetTimeScale{0.5}, SetMirrored{true},
                                           AskForAthlete{true}, ShowAthlete{{0.5, 0.5}}}) {
        const auto done = apply(state, command);
        REQUIRE_FALSE(done);
        CHECK(done.error().detail.find("not in a library") != std::string::npos);
    }
}

TEST_CASE("what is being measured begins again when a setting changes, and a late result does not count") {
    ReviewState state = desk();
    const std::string clip = state.clip->fingerprint;
    const posing::Analysis before = *state.clip->measured;
    const Filmed as_before = state.clip->filmed;
    JobLine job;
    job.id = 7;
    job.clip = clip;
    job.waiting = false;
    absorb(state, JobMoved{job});
    state.requests.clear();
    REQUIRE(apply(state, TiltFilm{3}));
    CHECK(asked_for(state, "cancel"));
    CHECK(asked_for(state, "measure"));
    absorb(state, Measured{clip, before, as_before});
    CHECK_FALSE(state.clip->measured);
    absorb(state, Measured{clip, before, state.clip->filmed});
    CHECK(state.clip->measured);
}

TEST_CASE("settings changed by another program arrive on screen") {
    ReviewState state = desk();
    journal::Library theirs = *state.library;
    theirs.clips[0].tilt_deg = -4;
    theirs.clips[0].mirrored = true;
    absorb(state, LibraryRead{state.library_folder, theirs, 0, false});
    CHECK(state.desk.zooming.tilt_deg == -4);
    CHECK(state.desk.zooming.mirrored);
    CHECK_FALSE(state.clip->measured);
}

TEST_CASE("the mark says what is measured, what is being measured and what is out of date") {
    ReviewState state = desk();
    const std::string open = state.clip->fingerprint;
    journal::Clip other;
    other.id = "sha256:" + std::string(64, 'b');
    other.session = "session";
    state.library->clips.push_back(other);
    CHECK(measured_mark(state, open) == MeasuredMark::measured);
    CHECK(measured_mark(state, other.id) == MeasuredMark::not_measured);
    using share::MeasuredState;
    for (const auto& [known, mark] : {std::pair{MeasuredState::older_version, MeasuredMark::older_version},
                                      std::pair{MeasuredState::other_settings, MeasuredMark::other_settings},
                                      std::pair{MeasuredState::measured, MeasuredMark::measured}}) {
        absorb(state, MeasuredChecked{{{other.id, known}}});
        CHECK(measured_mark(state, other.id) == mark);
    }
    JobLine job;
    job.id = 3;
    job.clip = other.id;
    absorb(state, JobMoved{job});
    CHECK(measured_mark(state, other.id) == MeasuredMark::waiting);
    job.waiting = false;
    job.share = 0.42;
    absorb(state, JobMoved{job});
    CHECK(measured_mark(state, other.id) == MeasuredMark::being_measured);
    CHECK(measured_text(state, other.id) == "Measuring, 42 %");
    state.requests.clear();
    absorb(state, JobEnded{3});
    CHECK(asked_for(state, "check"));
    CHECK(measured_mark(state, other.id) == MeasuredMark::measured);
}

TEST_CASE("settings read as people say them") {
    CHECK(tilt_text(std::nullopt) == "Estimated");
    CHECK(tilt_text(0) == "Level");
    CHECK(tilt_text(-2.5) == "2.5° counter-clockwise");
    CHECK(time_scale_text(0.25) == "4 times slower than life");
    CHECK(time_scale_text(1) == "As played");
    CHECK(rotation_text(std::nullopt) == "As the file says");
}
