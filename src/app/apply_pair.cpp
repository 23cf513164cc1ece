#include <algorithm>
#include <cmath>
#include <cstdint>

#include "app/apply.hpp"
#include "base/id.hpp"

namespace quarterturn::app {
namespace {

using namespace pairing;

const Error no_films{ErrorCode::not_found, "Nothing is compared yet. Choose what to compare with."};

void pause(PairDesk& desk, ReviewState& state) {
    if (!desk.running) return;
    desk.running = false;
    state.requests.push_back(Request::PausePair{});
}

void compare(ReviewState& state, bool keep_sides) {
    PairDesk& desk = state.pair;
    if (!desk.now) return;
    desk.working = true;
    desk.trouble.clear();
    ++desk.number;
    state.requests.push_back(Request::Compare{*desk.now, desk.before, keep_sides ? desk.made : nullptr, desk.number});
}

Status begin(ReviewState& state, const Compare& wanted) {
    if (!state.library || state.library->find_session(wanted.now.session) == nullptr)
        return Error{ErrorCode::not_found, "Comparing needs clips in a library. Add this film to one first."};
    PairDesk& desk = state.pair;
    const bool same = desk.now == wanted.now && (!wanted.before || desk.before == wanted.before);
    if (!same || (!desk.made && !desk.working)) {
        pause(desk, state);
        PairDesk fresh;
        fresh.look = desk.look;
        fresh.opacity = desk.opacity;
        fresh.sync = desk.sync;
        fresh.aligned = desk.aligned;
        fresh.number = desk.number;
        fresh.now = wanted.now;
        fresh.before = wanted.before;
        desk = std::move(fresh);
        compare(state, false);
    }
    desk.choosing = false;
    return apply(state, GoTo{Place::pair});
}

// The films of the chosen pair, unless they are open.
bool films_are_open(const PairDesk& desk) {
    const auto* chosen = desk.chosen();
    return chosen != nullptr && desk.films && desk.films->now_take == chosen->pair.now.take &&
           desk.films->before_take == chosen->pair.before.take;
}

void light(ReviewState& state) {
    PairDesk& desk = state.pair;
    desk.gains.reset();
    if (desk.match_light && desk.chosen() != nullptr)
        state.requests.push_back(Request::MatchLight{desk.made, desk.pair});
}

Status choose(ReviewState& state, std::size_t rank) {
    PairDesk& desk = state.pair;
    if (!desk.made || rank >= desk.made->made.pairs.size()) return no_films;
    pause(desk, state);
    desk.pair = rank;
    desk.choosing_hold.reset();
    desk.at_stills = true;
    const compare::Pair& pair = desk.chosen()->pair;
    desk.clock_s = pair.now_still_s;
    if (!films_are_open(desk)) {
        desk.films.reset();
        state.requests.push_back(Request::OpenPairFilms{desk.made, pair.now.take, pair.before.take});
    }
    light(state);
    show_pair(state);
    return ok();
}

void play(ReviewState& state) {
    PairDesk& desk = state.pair;
    if (desk.clock_s >= desk.duration_s() - 0.05) desk.clock_s = 0;
    desk.at_stills = false;
    desk.running = true;
    state.requests.push_back(Request::PlayPair{});
}

// Once more from here, with what has changed.
void moved(ReviewState& state) {
    if (state.pair.running)
        play(state);
    else
        show_pair(state);
}

Status seek(ReviewState& state, double clock_s) {
    PairDesk& desk = state.pair;
    desk.clock_s = std::clamp(clock_s, 0.0, desk.duration_s());
    desk.at_stills = false;
    pair_clock_moved(state, desk.clock_s);
    moved(state);
    return ok();
}

Status step(ReviewState& state, int by) {
    PairDesk& desk = state.pair;
    pause(desk, state);
    const auto& index = *desk.films->now_index;
    const auto rank = index.rank_at(picture_at(index, desk.now_clip(), desk.due()->now_s));
    if (!rank) return ok();
    const auto last = static_cast<std::ptrdiff_t>(index.pictures.size()) - 1;
    const auto to = std::clamp(static_cast<std::ptrdiff_t>(*rank) + by, std::ptrdiff_t{0}, last);
    const std::int64_t pts = index.pictures[static_cast<std::size_t>(to)].pts;
    return seek(state, compare::seconds_of(desk.now_clip(), pts) - desk.offset.now_s);
}

Status look(ReviewState& state, const Any& what) {
    PairDesk& desk = state.pair;
    if (const auto* c = std::get_if<SetLook>(&what)) {
        const bool hidden = state.library && state.library->athlete.hide_body_numbers;
        if (c->look == PairLook::outline && hidden)
            return Error{ErrorCode::unsupported, "Widths and outlines are hidden. The settings show them again."};
        desk.look = c->look;
        if (c->look == PairLook::outline && !desk.running) show_pair(state);
    }
    if (const auto* c = std::get_if<SetOpacity>(&what)) desk.opacity = std::clamp(c->opacity, 0.0, 1.0);
    if (const auto* c = std::get_if<SetEdge>(&what)) desk.edge = std::clamp(c->edge, 0.0, 1.0);
    if (const auto* c = std::get_if<SetAligned>(&what)) desk.aligned = c->on;
    if (const auto* c = std::get_if<pairing::SetZooming>(&what)) desk.zooming = c->zooming;
    if (const auto* c = std::get_if<SetLight>(&what)) {
        desk.match_light = c->on;
        light(state);
    }
    return ok();
}

void shift(ReviewState& state, const ShiftBy& by) {
    PairDesk& desk = state.pair;
    // From the two stills a person goes on from what is on screen.
    const double shown = desk.due()->before_s;
    desk.at_stills = false;
    desk.offset.before_s += shown - desk.due()->before_s;
    desk.offset.now_s = std::clamp(desk.offset.now_s + by.now_s, -10.0, 10.0);
    desk.offset.before_s = std::clamp(desk.offset.before_s + by.before_s, -10.0, 10.0);
    moved(state);
}

Status play_or_seek(ReviewState& state, const Any& what) {
    PairDesk& desk = state.pair;
    if (!desk.films) return no_films;
    if (std::holds_alternative<pairing::TogglePlay>(what)) {
        if (desk.running)
            pause(desk, state), show_pair(state);
        else
            play(state);
    }
    if (const auto* c = std::get_if<pairing::Seek>(&what)) return seek(state, c->clock_s);
    if (const auto* c = std::get_if<Step>(&what)) return step(state, c->pictures);
    if (const auto* c = std::get_if<pairing::SetSpeed>(&what)) {
        desk.speed = std::clamp(c->speed, 0.1, 2.0);
        if (desk.running) play(state);
    }
    if (const auto* c = std::get_if<SetSync>(&what)) {
        desk.sync = c->mode;
        desk.at_stills = false;
        moved(state);
    }
    if (std::holds_alternative<OffsetsOff>(what)) {
        desk.offset = {};
        moved(state);
    }
    if (const auto* c = std::get_if<ShiftBy>(&what)) shift(state, *c);
    return ok();
}

journal::Pin new_pin(const ReviewState& state, journal::PinKind kind, const compare::Take& now,
                     const compare::Take& before) {
    journal::Pin pin;
    pin.id = new_id();
    pin.author = pin.editor = state.author();
    pin.kind = kind;
    pin.now.clip = now.analysis->clip.fingerprint;
    pin.now.base = now.analysis->clip.time_base;
    pin.before.clip = before.analysis->clip.fingerprint;
    pin.before.base = before.analysis->clip.time_base;
    return pin;
}

Status pin_together(ReviewState& state) {
    PairDesk& desk = state.pair;
    if (!desk.films) return no_films;
    pause(desk, state);
    const auto due = desk.due();
    journal::Pin pin = new_pin(state, journal::PinKind::moments, desk.made->made.now[desk.films->now_take],
                               desk.made->made.before[desk.films->before_take]);
    pin.now.at = picture_at(*desk.films->now_index, desk.now_clip(), due->now_s);
    pin.before.at = picture_at(*desk.films->before_index, desk.before_clip(), due->before_s);
    make_edit(state, {"Pin two moments together", {EntryChange<journal::Pin>{std::nullopt, std::move(pin)}}});
    desk.clock_s = due->now_s;
    desk.offset = {};
    desk.at_stills = false;
    refresh_pair(state);
    return ok();
}

Status unpin(ReviewState& state, const std::string& id) {
    const auto& pins = state.library->pins;
    const auto found = std::find_if(pins.begin(), pins.end(), [&](const auto& pin) { return pin.id == id; });
    if (found == pins.end()) return Error{ErrorCode::not_found, "There is no such pin."};
    make_edit(state, {"Take a pin out", {EntryChange<journal::Pin>{*found, std::nullopt}}});
    refresh_pair(state);
    return ok();
}

journal::PtsRange range_of(const posing::Segment& hold) {
    return {hold.start_pts, hold.end_pts};
}

bool same_hold(const journal::PinPlace& place, const std::string& clip, const journal::PtsRange& range) {
    return place.clip == clip && place.hold &&
           std::min(place.hold->end, range.end) > std::max(place.hold->start, range.start);
}

// What was said before about this hold and that one goes: the latest word counts, and undo brings it back.
void drop_words_about(const ReviewState& state, const journal::Pin& pin, Edit& edit) {
    for (const journal::Pin& old : state.library->pins) {
        if (old.kind == journal::PinKind::moments || old.now.clip != pin.now.clip || old.before.clip != pin.before.clip)
            continue;
        const bool touches = (pin.now.hold && same_hold(old.now, pin.now.clip, *pin.now.hold)) ||
                             (pin.before.hold && same_hold(old.before, pin.before.clip, *pin.before.hold));
        if (touches) edit.changes.emplace_back(EntryChange<journal::Pin>{old, std::nullopt});
    }
}

Status set_counterpart(ReviewState& state, const SetCounterpart& wanted) {
    PairDesk& desk = state.pair;
    if (!desk.made) return no_films;
    const compare::Comparison& made = desk.made->made;
    if (wanted.now.take >= made.now.size()) return no_films;
    // "None" is said about the film that the hold is paired with now.
    std::size_t other = wanted.before ? wanted.before->take : 0;
    for (const auto& pair : made.pairs)
        if (!wanted.before && pair.pair.now == wanted.now) other = pair.pair.before.take;
    journal::Pin pin = new_pin(state, wanted.before ? journal::PinKind::holds : journal::PinKind::alone,
                               made.now[wanted.now.take], made.before[other]);
    pin.now.hold = range_of(compare::hold_at(made.now, wanted.now));
    if (wanted.before) pin.before.hold = range_of(compare::hold_at(made.before, *wanted.before));
    Edit edit{wanted.before ? "Pair two holds" : "Hold without a counterpart", {}};
    drop_words_about(state, pin, edit);
    edit.changes.emplace_back(EntryChange<journal::Pin>{std::nullopt, std::move(pin)});
    make_edit(state, std::move(edit));
    desk.choosing_hold.reset();
    desk.wanted_hold = wanted.now;
    refresh_pair(state);
    return ok();
}

Status next_counterpart(ReviewState& state) {
    const auto* chosen = state.pair.chosen();
    if (chosen == nullptr) return no_films;
    const auto holds = holds_of(state.pair.made->made.before);
    if (holds.empty()) return no_films;
    const auto at = std::find(holds.begin(), holds.end(), chosen->pair.before);
    const auto next = at == holds.end() || at + 1 == holds.end() ? holds.begin() : at + 1;
    return set_counterpart(state, {chosen->pair.now, *next});
}

Status turn_mirrored(ReviewState& state) {
    PairDesk& desk = state.pair;
    if (!desk.films) return no_films;
    const compare::MirrorHint film = desk.made->made.mirror.film;
    if (film == compare::MirrorHint::none)
        return Error{ErrorCode::not_found, "Neither film seems to be mirrored against the other."};
    const posing::ClipFacts& facts = film == compare::MirrorHint::now ? desk.now_clip() : desk.before_clip();
    const auto* clip = state.library->find_clip(facts.fingerprint);
    if (clip == nullptr) return Error{ErrorCode::not_found, "This clip is no longer in the library."};
    journal::Clip changed = *clip;
    changed.mirrored = !changed.mirrored;
    if (auto done = apply(state, SetClip{changed, "Mirrored film"}); !done) return done;
    pause(desk, state);
    refresh_pair(state);
    return ok();
}

}  // namespace

void show_pair(ReviewState& state) {
    const PairDesk& desk = state.pair;
    const auto due = desk.due();
    if (!due || state.place != Place::pair) return;
    const std::int64_t before_pts = picture_at(*desk.films->before_index, desk.before_clip(), due->before_s);
    if (desk.look == PairLook::outline)
        state.requests.push_back(Request::TraceOutline{desk.made, desk.films->before_take, before_pts});
    state.requests.push_back(
        Request::ShowPair{picture_at(*desk.films->now_index, desk.now_clip(), due->now_s), before_pts});
}

void pair_clock_moved(ReviewState& state, double clock_s) {
    PairDesk& desk = state.pair;
    desk.clock_s = clock_s;
    if (!desk.films) return;
    const auto& pairs = desk.made->made.pairs;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const compare::Pair& pair = pairs[i].pair;
        if (pair.now.take != desk.films->now_take || pair.before.take != desk.films->before_take) continue;
        const posing::Segment& hold = compare::hold_at(desk.made->made.now, pair.now);
        if (clock_s < hold.start_s || clock_s >= hold.end_s || desk.pair == i) continue;
        desk.pair = i;
        desk.choosing_hold.reset();
        light(state);
    }
}

void pair_compared(ReviewState& state, std::uint64_t number, std::shared_ptr<const PairMade> made,
                   const std::string& trouble) {
    PairDesk& desk = state.pair;
    if (number != desk.number || !state.library) return;
    desk.working = false;
    desk.trouble = trouble;
    if (!made) return;
    const bool again = desk.made && desk.films;
    // A hold that is in no list stands for "none".
    compare::HoldPlace wanted{SIZE_MAX, SIZE_MAX};
    if (desk.chosen() != nullptr) wanted = desk.chosen()->pair.now;
    if (desk.wanted_hold) wanted = *desk.wanted_hold;
    const bool stayed = again && !desk.at_stills && !desk.wanted_hold;
    const double clock = desk.clock_s;
    pause(desk, state);
    desk.wanted_hold.reset();
    desk.traced.reset();
    desk.films.reset();  // their times lie differently now
    desk.made = std::move(made);
    desk.before = desk.made->before_choice;
    desk.basis = basis_of(*state.library, *desk.made);
    const auto& pairs = desk.made->made.pairs;
    if (pairs.empty()) {
        desk.trouble =
            "No pose is held in both, so there is nothing to set side by side. Choose another session, or "
            "name the holds on the clip page.";
        return;
    }
    std::size_t rank = 0;
    for (std::size_t i = 0; i < pairs.size(); ++i)
        if (pairs[i].pair.now == wanted) rank = i;
    if (auto chosen = choose(state, rank); !chosen) return;
    desk.at_stills = !stayed;
    if (stayed) desk.clock_s = clock;
}

void refresh_pair(ReviewState& state) {
    PairDesk& desk = state.pair;
    if (!desk.made || !state.library || state.place != Place::pair) return;
    const PairBasis basis = basis_of(*state.library, *desk.made);
    if (basis == desk.basis) return;
    const bool keep = basis.clips == desk.basis.clips;
    desk.basis = basis;
    compare(state, keep);
}

Status apply_pair(ReviewState& state, const PairCommand& command) {
    const Any& what = command.what;
    if (const auto* c = std::get_if<Compare>(&what)) return begin(state, *c);
    if (!state.library) return no_films;
    if (std::holds_alternative<CompareAgain>(what)) {
        compare(state, false);
        return ok();
    }
    if (const auto* c = std::get_if<ShowSessions>(&what)) state.pair.choosing = c->on;
    if (const auto* c = std::get_if<ShowHolds>(&what)) state.pair.choosing_hold = c->now;
    if (const auto* c = std::get_if<Choose>(&what)) return choose(state, c->pair);
    if (std::holds_alternative<PinTogether>(what)) return pin_together(state);
    if (const auto* c = std::get_if<Unpin>(&what)) return unpin(state, c->pin);
    if (const auto* c = std::get_if<SetCounterpart>(&what)) return set_counterpart(state, *c);
    if (std::holds_alternative<NextCounterpart>(what)) return next_counterpart(state);
    if (std::holds_alternative<TurnMirroredFilm>(what)) return turn_mirrored(state);
    const bool about_time = std::holds_alternative<pairing::TogglePlay>(what) ||
                            std::holds_alternative<pairing::Seek>(what) || std::holds_alternative<Step>(what) ||
                            std::holds_alternative<pairing::SetSpeed>(what) || std::holds_alternative<SetSync>(what) ||
                            std::holds_alternative<ShiftBy>(what) || std::holds_alternative<OffsetsOff>(what);
    return about_time ? play_or_seek(state, what) : look(state, what);
}

}  // namespace quarterturn::app
