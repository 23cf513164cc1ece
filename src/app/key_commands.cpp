// What a key means depends on what is on screen: translated here, so that views and keys go the same way.
#include <algorithm>
#include <array>

#include "app/apply.hpp"
#include "app/cards.hpp"

namespace quarterturn::app {
namespace {

// One copy of what making a command costs, not one at every place.
[[gnu::noinline]] Commands only(Command command) {
    Commands commands;
    commands.push_back(std::move(command));
    return commands;
}

constexpr std::array speeds{0.1, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0};

const journal::SegmentSpan* next_span(const OpenClip& clip, std::int64_t pts, bool holds) {
    for (const auto& span : clip.spans)
        if (span.is_hold == holds && span.range.start > pts) return &span;
    return nullptr;
}

// Going back lands on the start of the present one first when that is more than a third of a second away.
const journal::SegmentSpan* previous_span(const OpenClip& clip, std::int64_t pts, bool holds) {
    const journal::SegmentSpan* found = nullptr;
    for (const auto& span : clip.spans)
        if (span.is_hold == holds && clip.seconds_of(pts) - clip.seconds_of(span.range.start) > 1.0 / 3) found = &span;
    return found;
}

// A corrected span may lie between holds without being a measured transition: pauses and walks do not count.
bool is_transition(const OpenClip& clip, const journal::SegmentSpan& span) {
    if (span.is_hold || !clip.measured || !span.measured) return false;
    return clip.measured->segments[*span.measured].kind == posing::SegmentKind::transition;
}

Commands to_transition(const OpenClip& clip, std::int64_t pts, bool forwards) {
    const journal::SegmentSpan* found = nullptr;
    for (const auto& span : clip.spans) {
        if (!is_transition(clip, span)) continue;
        if (forwards && span.range.start > pts) return only(Seek{span.range.start});
        if (!forwards && clip.seconds_of(pts) - clip.seconds_of(span.range.start) > 1.0 / 3) found = &span;
    }
    return found != nullptr ? only(Seek{found->range.start}) : Commands{};
}

Commands to_hold(const ReviewState& state, bool forwards) {
    const OpenClip& clip = *state.clip;
    const auto* span =
        forwards ? next_span(clip, state.playing.pts, true) : previous_span(clip, state.playing.pts, true);
    if (span == nullptr) return {};
    return only(ChooseSpan{static_cast<std::size_t>(span - clip.spans.data())});
}

Commands to_note(const ReviewState& state, bool forwards) {
    if (!state.library) return {};
    std::vector<std::pair<std::int64_t, std::string>> moments;
    for (const auto* note : state.library->notes_of_clip(state.clip->fingerprint))
        if (note->moment) moments.emplace_back(note->moment->start_pts, note->id);
    std::sort(moments.begin(), moments.end());
    const std::pair here{state.playing.pts, state.desk.note.value_or(forwards ? "" : "~")};
    if (forwards) {
        const auto found = std::upper_bound(moments.begin(), moments.end(), here);
        return found == moments.end() ? Commands{} : only(ChooseNote{found->second});
    }
    const auto found = std::lower_bound(moments.begin(), moments.end(), here);
    return found == moments.begin() ? Commands{} : only(ChooseNote{std::prev(found)->second});
}

Commands step(const ReviewState& state, int by) {
    const auto& index = *state.clip->index;
    const auto rank = index.rank_at(state.playing.pts);
    if (!rank) return {};
    const auto last = static_cast<std::ptrdiff_t>(index.pictures.size()) - 1;
    const std::ptrdiff_t to = std::clamp(static_cast<std::ptrdiff_t>(*rank) + by, std::ptrdiff_t{0}, last);
    Commands commands;
    if (state.playing.running) commands.emplace_back(TogglePlay{});
    commands.emplace_back(Seek{index.pictures[static_cast<std::size_t>(to)].pts});
    return commands;
}

Commands change_speed(const ReviewState& state, bool faster) {
    const double now = state.playing.speed;
    double next = now;
    if (faster) {
        const auto* found = std::find_if(speeds.begin(), speeds.end(), [&](double s) { return s > now + 1e-6; });
        if (found != speeds.end()) next = *found;
    } else {
        for (const double s : speeds)
            if (s < now - 1e-6) next = s;
    }
    return only(SetSpeed{next});
}

std::optional<std::size_t> hold_here(const ReviewState& state) {
    const auto under = span_at(*state.clip, state.playing.pts);
    if (under && state.clip->spans[*under].is_hold) return under;
    return state.desk.span;
}

Commands playing_commands(const ReviewState& state, Action action) {
    const OpenClip& clip = *state.clip;
    const std::int64_t pts = state.playing.pts;
    const double at = clip.seconds_of(pts);
    switch (action) {
        case Action::play_or_pause:
            return only(TogglePlay{});
        case Action::next_picture:
            return step(state, 1);
        case Action::previous_picture:
            return step(state, -1);
        case Action::one_second_on:
            return only(SeekSeconds{at + 1});
        case Action::one_second_back:
            return only(SeekSeconds{std::max(0.0, at - 1)});
        case Action::to_start:
            return only(SeekSeconds{0});
        case Action::to_end:
            return only(SeekSeconds{clip.duration_s()});
        case Action::next_hold:
            return to_hold(state, true);
        case Action::previous_hold:
            return to_hold(state, false);
        case Action::next_transition:
            return to_transition(clip, pts, true);
        case Action::previous_transition:
            return to_transition(clip, pts, false);
        case Action::next_note:
            return to_note(state, true);
        case Action::previous_note:
            return to_note(state, false);
        case Action::slower:
            return change_speed(state, false);
        case Action::faster:
            return change_speed(state, true);
        case Action::normal_speed:
            return only(SetSpeed{1});
        case Action::repeat_off:
            return only(SetRepeat{});
        case Action::repeat_hold:
            if (state.playing.repeat) return only(SetRepeat{});
            if (const auto hold = hold_here(state)) return only(SetRepeat{clip.spans[*hold].range});
            return {};
        case Action::repeat_from_here: {
            const std::int64_t last = clip.index->pictures.back().pts;
            const std::int64_t end =
                state.playing.repeat && state.playing.repeat->end > pts ? state.playing.repeat->end : last;
            return end > pts ? only(SetRepeat{journal::PtsRange{pts, end}}) : Commands{};
        }
        case Action::repeat_to_here: {
            const std::int64_t start =
                state.playing.repeat ? std::min(state.playing.repeat->start, pts) : clip.index->pictures.front().pts;
            return pts > start ? only(SetRepeat{journal::PtsRange{start, pts}}) : Commands{};
        }
        default:
            return {};
    }
}

Commands hold_commands(const ReviewState& state, Action action) {
    const std::int64_t pts = state.playing.pts;
    if (action == Action::add_hold) return only(AddHold{pts, std::nullopt});
    const auto chosen = state.desk.span ? state.desk.span : hold_here(state);
    if (!chosen) return {};
    switch (action) {
        case Action::hold_starts_here:
            return {DragBound{*chosen, false, pts}, DropBound{}};
        case Action::hold_ends_here:
            return {DragBound{*chosen, true, pts}, DropBound{}};
        case Action::split_hold:
            return only(SplitAt{hold_here(state).value_or(*chosen), pts});
        case Action::join_hold:
            return only(JoinNext{*chosen});
        case Action::remove_hold:
            return only(RemoveHold{*chosen});
        case Action::measured_hold:
            return only(BackToMeasured{*chosen});
        case Action::next_pose_name: {
            const auto cards = cards_of(state);
            const std::string now = state.clip->spans[*chosen].pose.value_or("");
            auto at = std::find_if(cards.begin(), cards.end(), [&](const Card& card) { return card.pose == now; });
            if (at == cards.end() || ++at == cards.end()) at = cards.begin();
            if (at == cards.end()) return {};
            return only(Relabel{*chosen, at->pose.empty() ? std::nullopt : std::optional(at->pose)});
        }
        default:
            return {};
    }
}

Commands card_commands(const ReviewState& state, Action action) {
    if (!state.desk.card) return {};
    if (action == Action::turn_card) return only(TurnCard{!state.desk.card_shows_checklist});
    for (const Card& card : cards_of(state)) {
        if (card.pose != *state.desk.card) continue;
        const auto lines = checklist_of(state, card);
        if (lines.empty()) return {};
        const std::size_t item = std::min(state.desk.item, lines.size() - 1);
        if (action == Action::next_item) return {TurnCard{true}, ChooseItem{std::min(item + 1, lines.size() - 1)}};
        if (action == Action::previous_item) return {TurnCard{true}, ChooseItem{item > 0 ? item - 1 : 0}};
        const int value = static_cast<int>(action) - static_cast<int>(Action::mark_0);
        if (state.desk.card_shows_checklist && value >= 0 && value <= 4)
            return only(SetMark{card.pose, lines[item].item->id, value});
    }
    return {};
}

Commands note_commands(const ReviewState& state, Action action) {
    switch (action) {
        case Action::pin_note:
            return only(PinNote{});
        case Action::stretch_from_here:
            return only(StretchFrom{});
        case Action::stretch_to_here:
            return only(StretchTo{});
        case Action::finish_typing:
            return only(FinishTyping{});
        case Action::remove_note:
            return state.desk.note ? only(RemoveNote{*state.desk.note}) : Commands{};
        case Action::note_done: {
            const auto* note = state.library && state.desk.note ? state.library->find_note(*state.desk.note) : nullptr;
            return note != nullptr ? only(SetDone{note->id, !note->done}) : Commands{};
        }
        default:
            return {};
    }
}

Commands looking_commands(const ReviewState& state, Action action) {
    const Desk& desk = state.desk;
    Zooming zooming = desk.zooming;
    Overlays overlays = desk.overlays;
    const double at = state.clip->seconds_of(state.playing.pts);
    const double length = state.clip->duration_s();
    const auto toggled = [&](bool Overlays::*which) -> Commands {
        overlays.*which = !(overlays.*which);
        return only(SetOverlays{overlays});
    };
    const auto tool = [&](DrawingKind kind) -> Commands {
        return only(TakeTool{desk.tool == kind ? std::nullopt : std::optional(kind)});
    };
    switch (action) {
        case Action::mirror:
            zooming.mirrored = !zooming.mirrored;
            return only(SetZooming{zooming});
        case Action::zoom_in:
            zooming.factor = std::min(16.0, zooming.factor * 1.25);
            return only(SetZooming{zooming});
        case Action::zoom_out:
            zooming.factor = std::max(1.0, zooming.factor / 1.25);
            return only(SetZooming{zooming});
        case Action::zoom_whole:
            return only(SetZooming{{1, {0.5, 0.5}, zooming.mirrored, zooming.tilt_deg}});
        case Action::ribbon_in:
            return only(SetRibbon{zoomed(desk.ribbon, 1.5, at, length)});
        case Action::ribbon_out:
            return only(SetRibbon{zoomed(desk.ribbon, 1 / 1.5, at, length)});
        case Action::full_screen:
            return only(SetFullScreen{!desk.full_screen});
        case Action::show_skeleton:
            return toggled(&Overlays::skeleton);
        case Action::show_plumb_line:
            return toggled(&Overlays::plumb_line);
        case Action::show_levels:
            return toggled(&Overlays::levels);
        case Action::show_silhouette:
            return toggled(&Overlays::silhouette);
        case Action::show_thirds:
            return toggled(&Overlays::thirds);
        case Action::show_drawings:
            return toggled(&Overlays::drawings);
        case Action::draw_level:
            return tool(DrawingKind::level);
        case Action::draw_upright:
            return tool(DrawingKind::upright);
        case Action::draw_angle:
            return tool(DrawingKind::angle);
        case Action::draw_ring:
            return tool(DrawingKind::ring);
        case Action::draw_arrow:
            return tool(DrawingKind::arrow);
        case Action::draw_stroke:
            return tool(DrawingKind::stroke);
        default:
            return {};
    }
}

// While the person is asked who the athlete is, the arrow keys move the cross and Space says "here".
Commands athlete_commands(const ReviewState& state, Action action) {
    if (!state.desk.athlete_aim) return {};
    constexpr double step = 0.02;  // of the picture's height
    const Spot at = *state.desk.athlete_aim;
    const double wide = step / state.clip->aspect() * (state.desk.zooming.mirrored ? -1 : 1);
    switch (action) {
        case Action::next_picture:
            return only(AimAtAthlete{{at.x + wide, at.y}});
        case Action::previous_picture:
            return only(AimAtAthlete{{at.x - wide, at.y}});
        case Action::next_hold:
            return only(AimAtAthlete{{at.x, at.y + step}});
        case Action::previous_hold:
            return only(AimAtAthlete{{at.x, at.y - step}});
        case Action::play_or_pause:
        case Action::open_clip:
            return only(ShowAthlete{at});
        default:
            return {};
    }
}

Commands filmed_commands(const ReviewState& state, Action action) {
    const Filmed& filmed = state.clip->filmed;
    switch (action) {
        case Action::show_filmed:
            return only(ShowFilmed{!state.desk.filmed_open});
        case Action::turn_film:
            return only(TurnFilm{next_rotation(filmed.rotation_deg)});
        case Action::tilt_left:
            return only(TiltFilm{filmed.tilt_deg.value_or(0) - tilt_step_deg});
        case Action::tilt_right:
            return only(TiltFilm{filmed.tilt_deg.value_or(0) + tilt_step_deg});
        case Action::tilt_estimated:
            return only(TiltFilm{std::nullopt});
        case Action::film_speed:
            return only(SetTimeScale{next_time_scale(filmed.time_scale)});
        case Action::turn_mirrored_film:
            return only(SetMirrored{!filmed.mirrored});
        case Action::show_athlete:
            return only(AskForAthlete{!state.desk.athlete_aim});
        case Action::follow_anyone:
            return only(FollowAnyone{});
        case Action::measure_clip:
            return only(AnalyseClip{state.clip->fingerprint});
        default:
            return {};
    }
}

Commands leave(const ReviewState& state) {
    if (state.place == Place::library && state.moving) return only(StartMoving{});
    if (state.place == Place::keys || state.place == Place::settings)
        return only(GoTo{state.clip ? Place::clip : Place::library});
    if (state.desk.typing || state.desk.search_wanted) return only(FinishTyping{});
    if (state.desk.athlete_aim) return only(AskForAthlete{false});
    if (state.desk.tool) return only(TakeTool{});
    if (state.desk.full_screen) return only(SetFullScreen{false});
    if (state.desk.filmed_open) return only(ShowFilmed{false});
    if (state.desk.note) return only(ChooseNote{});
    if (state.desk.card) return only(OpenCard{});
    return {};
}

}  // namespace

Commands commands_for(const ReviewState& state, Action action) {
    switch (action) {
        case Action::undo:
            return only(Undo{});
        case Action::redo:
            return only(Redo{});
        case Action::go_library:
            return only(GoTo{Place::library});
        case Action::go_clip:
            return only(GoTo{Place::clip});
        case Action::go_pair:
            return only(GoTo{Place::pair});
        case Action::go_keys:
            return only(GoTo{state.place == Place::keys && state.clip ? Place::clip : Place::keys});
        case Action::go_settings:
            return only(GoTo{Place::settings});
        case Action::leave:
            if (state.place == Place::pair) break;
            return leave(state);
        default:
            break;
    }
    if (state.place == Place::pair) return pair_commands_for(state, action);
    if (state.place == Place::library) return library_commands_for(state, action);
    const bool ready =
        state.place == Place::clip && state.clip && state.clip->index && !state.clip->index->pictures.empty();
    if (!ready) return {};
    for (const auto family : {athlete_commands, filmed_commands, library_commands_for, playing_commands, note_commands,
                              hold_commands, card_commands, looking_commands})
        if (Commands commands = family(state, action); !commands.empty()) return commands;
    return {};
}

}  // namespace quarterturn::app
