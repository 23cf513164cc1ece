#include <algorithm>
#include <chrono>

#include "app/apply.hpp"
#include "base/id.hpp"

namespace quarterturn::app {
namespace {

using journal::CorrectionKind;
using journal::HoldCorrection;
using journal::PtsRange;

const Error outside{ErrorCode::unsupported,
                    "This clip is not in a library, so changes cannot be kept. Add it to a library first."};
const Error no_hold{ErrorCode::not_found, "Choose a hold first: press its block on the ribbon or its card."};

// Corrections are laid over each other in the order of their ids, which count milliseconds: one made in the same
// millisecond as another has to come after it nevertheless.
std::string id_after_all(const journal::Library& library) {
    auto instant = std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
    std::string latest;
    for (const HoldCorrection& made : library.hold_corrections) latest = std::max(latest, made.id);
    std::string id = new_id_at(instant);
    // Another machine's clock may be ahead; then the order is left to the clocks.
    for (int i = 0; i < 50 && id <= latest; ++i) id = new_id_at(instant += std::chrono::milliseconds(1));
    return id;
}

HoldCorrection correction(const ReviewState& state, CorrectionKind kind, std::optional<PtsRange> about) {
    HoldCorrection made;
    made.id = id_after_all(*state.library);
    made.author = made.editor = state.author();
    made.clip = state.clip->fingerprint;
    made.base = state.clip->index->time_base;
    made.kind = kind;
    made.about = about;
    return made;
}

Status make(ReviewState& state, std::string title, HoldCorrection made) {
    make_edit(state, {std::move(title), {EntryChange<HoldCorrection>{std::nullopt, std::move(made)}}});
    refresh_spans(state);
    return ok();
}

const journal::SegmentSpan* hold(const ReviewState& state, std::size_t span) {
    if (span >= state.clip->spans.size() || !state.clip->spans[span].is_hold) return nullptr;
    return &state.clip->spans[span];
}

Status drop(ReviewState& state) {
    if (!state.desk.drag) return ok();
    const Desk::Drag drag = *state.desk.drag;
    state.desk.drag.reset();
    const auto* span = hold(state, drag.span);
    if (span == nullptr) return ok();
    PtsRange range = span->range;
    (drag.end ? range.end : range.start) = drag.pts;
    if (range == span->range) return ok();
    if (range.end <= range.start) return Error{ErrorCode::bad_input, "A hold must end after it starts."};
    HoldCorrection made = correction(state, CorrectionKind::bounds, span->range);
    made.range = range;
    return make(state, drag.end ? "Move the hold's end" : "Move the hold's start", std::move(made));
}

Status join(ReviewState& state, std::size_t span) {
    const auto* first = hold(state, span);
    if (first == nullptr) return no_hold;
    for (std::size_t i = span + 1; i < state.clip->spans.size(); ++i) {
        if (!state.clip->spans[i].is_hold) continue;
        HoldCorrection made = correction(state, CorrectionKind::joined, first->range);
        made.range = state.clip->spans[i].range;
        return make(state, "Join two holds", std::move(made));
    }
    return Error{ErrorCode::not_found, "There is no hold after this one to join it with."};
}

// A new hold takes what is free around the picture, two seconds at most to each side.
Status add(ReviewState& state, const AddHold& command) {
    const OpenClip& clip = *state.clip;
    const auto under = span_at(clip, command.pts);
    if (under && clip.spans[*under].is_hold)
        return Error{ErrorCode::conflict, "There is a hold here already. Split it, or go to a place between holds."};
    const double at = clip.seconds_of(command.pts);
    PtsRange range{clip.pts_at(std::max(0.0, at - 2)), clip.pts_at(std::min(clip.duration_s(), at + 2))};
    for (const auto& span : clip.spans) {
        if (!span.is_hold) continue;
        if (span.range.end <= command.pts) range.start = std::max(range.start, span.range.end);
        if (span.range.start > command.pts) range.end = std::min(range.end, span.range.start);
    }
    if (range.end <= range.start) return Error{ErrorCode::bad_input, "There is no room for a hold here."};
    HoldCorrection made = correction(state, CorrectionKind::added, std::nullopt);
    made.range = range;
    made.pose = command.pose;
    if (auto done = make(state, "Add a hold", std::move(made)); !done) return done;
    state.desk.span = span_at(*state.clip, command.pts);
    return ok();
}

Status back_to_measured(ReviewState& state, std::size_t span) {
    const auto* chosen = hold(state, span);
    if (chosen == nullptr) return no_hold;
    const auto touches = [&](const std::optional<PtsRange>& range) {
        return range && range->start < chosen->range.end && range->end > chosen->range.start;
    };
    Edit edit{"Back to the measured hold", {}};
    for (const HoldCorrection& made : state.library->corrections_of(state.clip->fingerprint))
        if (touches(made.about) || touches(made.range))
            edit.changes.emplace_back(EntryChange<HoldCorrection>{made, std::nullopt});
    if (edit.changes.empty()) return Error{ErrorCode::not_found, "This hold is as it was measured."};
    std::reverse(edit.changes.begin(), edit.changes.end());
    make_edit(state, std::move(edit));
    refresh_spans(state);
    return ok();
}

Status correct(ReviewState& state, const Command& command) {
    if (std::holds_alternative<DropBound>(command)) return drop(state);
    if (const auto* c = std::get_if<Relabel>(&command)) {
        const auto* span = hold(state, c->span);
        if (span == nullptr) return no_hold;
        if (span->pose == c->pose) return ok();
        HoldCorrection made = correction(state, CorrectionKind::relabelled, span->range);
        made.pose = c->pose;
        if (state.desk.card == span->pose.value_or("")) state.desk.card = c->pose.value_or("");
        return make(state, "Name the hold", std::move(made));
    }
    if (const auto* c = std::get_if<SplitAt>(&command)) {
        const auto* span = hold(state, c->span);
        if (span == nullptr) return no_hold;
        if (c->pts <= span->range.start || c->pts >= span->range.end)
            return Error{ErrorCode::bad_input, "Go to a picture inside the hold to split it there."};
        HoldCorrection made = correction(state, CorrectionKind::split, span->range);
        made.at = c->pts;
        made.pose = span->pose;
        return make(state, "Split the hold", std::move(made));
    }
    if (const auto* c = std::get_if<JoinNext>(&command)) return join(state, c->span);
    if (const auto* c = std::get_if<AddHold>(&command)) return add(state, *c);
    if (const auto* c = std::get_if<RemoveHold>(&command)) {
        const auto* span = hold(state, c->span);
        if (span == nullptr) return no_hold;
        return make(state, "Remove the hold", correction(state, CorrectionKind::removed, span->range));
    }
    if (const auto* c = std::get_if<BackToMeasured>(&command)) return back_to_measured(state, c->span);
    return ok();
}

}  // namespace

Status apply_hold(ReviewState& state, const Command& command) {
    if (const auto* c = std::get_if<ChooseSpan>(&command)) {
        if (c->span && *c->span >= state.clip->spans.size()) return ok();
        state.desk.span = c->span;
        if (!c->span) return ok();
        const auto& span = state.clip->spans[*c->span];
        if (span.is_hold) state.desk.card = span.pose.value_or("");
        go_to(state, span.range.start);
        return ok();
    }
    if (const auto* c = std::get_if<DragBound>(&command)) {
        const auto* span = hold(state, c->span);
        if (span == nullptr) return ok();
        // Kept at least one tick long while dragging, so that the block never turns inside out.
        const std::int64_t pts =
            c->end ? std::max(c->pts, span->range.start + 1) : std::min(c->pts, span->range.end - 1);
        if (!state.desk.drag || state.desk.drag->pts != pts) go_to(state, pts);
        state.desk.drag = Desk::Drag{c->span, c->end, pts};
        return ok();
    }
    if (!state.clip->in_library || !state.library) {
        state.desk.drag.reset();
        return outside;
    }
    return correct(state, command);
}

}  // namespace quarterturn::app
