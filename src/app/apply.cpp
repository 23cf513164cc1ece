#include "app/apply.hpp"

#include <algorithm>

namespace quarterturn::app {
namespace {

bool changes_measuring(const Change& change) {
    if (std::holds_alternative<EntryChange<journal::Session>>(change) ||
        std::holds_alternative<EntryChange<journal::Season>>(change))
        return true;
    const auto* clip = std::get_if<EntryChange<journal::Clip>>(&change);
    return clip != nullptr && !(clip->before && clip->after && filmed_of(*clip->before) == filmed_of(*clip->after));
}

// What is being measured with settings of before begins again with those of now.
void measure_again_if_running(ReviewState& state, const std::string& fingerprint) {
    for (const JobLine& job : state.jobs) {
        if (job.kind != JobKind::analysis || job.clip != fingerprint) continue;
        state.requests.push_back(Request::Cancel{job.id});
        if (const auto* clip = state.library->find_clip(fingerprint))
            state.requests.push_back(Request::Analyse{fingerprint, journal::clip_file(state.library_folder, *clip)});
    }
}

// An edit was made or taken back: the open clip, running jobs and the marks in the library follow.
void follow_clips(ReviewState& state, const Edit& edit) {
    bool measuring = false;
    for (const Change& change : edit.changes) {
        if (!changes_measuring(change)) continue;
        measuring = true;
        if (const auto* clip = std::get_if<EntryChange<journal::Clip>>(&change))
            measure_again_if_running(state, (clip->after ? clip->after : clip->before)->id);
    }
    if (!measuring) return;
    refresh_filmed(state);
    state.requests.push_back(Request::CheckMeasured{});
}

Status undo_or_redo(ReviewState& state, std::optional<Edit> edit, const char* nothing) {
    if (!edit) return Error{ErrorCode::not_found, nothing};
    if (!state.library) return ok();
    const Edit done = *edit;
    for (const Change& change : done.changes) apply_change(*state.library, change);
    state.requests.push_back(Request::Save{state.next_number, *edit});
    state.pending.push_back({state.next_number++, std::move(*edit)});
    follow_clips(state, done);
    state.draft.reset();
    state.desk.typing = false;
    refresh_spans(state);
    refresh_pair(state);
    if (state.desk.note && !state.library->find_note(*state.desk.note)) state.desk.note.reset();
    return ok();
}

Status apply_to_all(ReviewState& state, const Commands& commands) {
    for (const Command& command : commands)
        if (auto done = apply(state, command); !done) return done;
    return ok();
}

// Which function knows the command.
enum class Family { playing, looking, hold, card, note, drawing, filmed, library };

template <class T, class... Options>
constexpr bool is_one_of = (std::is_same_v<T, Options> || ...);

template <class T>
constexpr Family family_of() {
    if constexpr (is_one_of<T, TogglePlay, Seek, SeekSeconds, SetSpeed, SetRepeat>)
        return Family::playing;
    else if constexpr (is_one_of<T, SetZooming, SetRibbon, SetOverlays, SetFullScreen, ShowMeasured>)
        return Family::looking;
    else if constexpr (is_one_of<T, ChooseSpan, DragBound, DropBound, Relabel, SplitAt, JoinNext, AddHold, RemoveHold,
                                 BackToMeasured>)
        return Family::hold;
    else if constexpr (is_one_of<T, OpenCard, TurnCard, ChooseItem, SetMark>)
        return Family::card;
    else if constexpr (is_one_of<T, TakeTool, DrawPoint, DrawOn, DrawEnd, RemoveDrawing>)
        return Family::drawing;
    else if constexpr (is_one_of<T, ShowFilmed, TurnFilm, TiltFilm, SetTimeScale, SetMirrored, AskForAthlete,
                                 AimAtAthlete, ShowAthlete, FollowAnyone>)
        return Family::filmed;
    else if constexpr (is_one_of<T, PinNote, StretchFrom, StretchTo, ChooseNote, TypeNote, FinishTyping, SetTopic,
                                 SetDone, RemoveNote, FilterNotes, SearchNotes, SearchFocused>)
        return Family::note;
    else
        return Family::library;
}

}  // namespace

Status apply(ReviewState& state, const Command& command) {
    if (const auto* press = std::get_if<Press>(&command))
        return apply_to_all(state, commands_for(state, press->action));
    if (const auto* pair = std::get_if<PairCommand>(&command)) return apply_pair(state, *pair);
    if (std::holds_alternative<Undo>(command))
        return undo_or_redo(state, state.history.undo(), "There is nothing to undo.");
    if (std::holds_alternative<Redo>(command))
        return undo_or_redo(state, state.history.redo(), "There is nothing to redo.");
    const Family family = std::visit([](const auto& c) { return family_of<std::decay_t<decltype(c)>>(); }, command);
    const bool anywhere = family == Family::library || std::holds_alternative<SetFullScreen>(command);
    if (!anywhere && !state.clip) return ok();
    switch (family) {
        case Family::playing:
            return apply_playing(state, command);
        case Family::looking:
            return apply_looking(state, command);
        case Family::hold:
            return apply_hold(state, command);
        case Family::card:
            return apply_card(state, command);
        case Family::note:
            return apply_note(state, command);
        case Family::drawing:
            return apply_drawing(state, command);
        case Family::filmed:
            return apply_filmed(state, command);
        case Family::library:
            return apply_library(state, command);
    }
    return ok();
}

void make_edit(ReviewState& state, Edit edit, bool grows) {
    if (!state.library) return;
    for (const Change& change : edit.changes) apply_change(*state.library, change);
    if (grows)
        state.history.grew(edit);
    else
        state.history.did(edit);
    state.requests.push_back(Request::Save{state.next_number, edit});
    state.pending.push_back({state.next_number++, edit});
    follow_clips(state, edit);
}

void refresh_spans(ReviewState& state) {
    if (!state.clip) return;
    OpenClip& clip = *state.clip;
    std::optional<journal::PtsRange> chosen;
    if (state.desk.span && *state.desk.span < clip.spans.size()) chosen = clip.spans[*state.desk.span].range;
    std::vector<journal::SegmentSpan> measured;
    if (clip.measured)
        for (const posing::Segment& segment : clip.measured->segments)
            if (segment.end_pts > segment.start_pts)
                measured.push_back({{segment.start_pts, segment.end_pts},
                                    segment.kind == posing::SegmentKind::hold,
                                    segment.pose,
                                    std::nullopt,
                                    false});
    std::vector<journal::HoldCorrection> corrections;
    if (state.library && clip.in_library) corrections = state.library->corrections_of(clip.fingerprint);
    clip.spans = journal::corrected_segments(std::move(measured), corrections);
    state.desk.span.reset();
    if (!chosen) return;
    // The one that shares most time with what was chosen.
    std::int64_t best = 0;
    for (std::size_t i = 0; i < clip.spans.size(); ++i) {
        const auto& range = clip.spans[i].range;
        const std::int64_t shared = std::min(range.end, chosen->end) - std::max(range.start, chosen->start);
        if (shared <= best) continue;
        best = shared;
        state.desk.span = i;
    }
}

std::optional<std::size_t> span_at(const OpenClip& clip, std::int64_t pts) {
    for (std::size_t i = 0; i < clip.spans.size(); ++i)
        if (pts >= clip.spans[i].range.start && pts < clip.spans[i].range.end) return i;
    return std::nullopt;
}

}  // namespace quarterturn::app
