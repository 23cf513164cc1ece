#include "journal/corrected_segments.hpp"

#include <algorithm>

namespace quarterturn::journal {
namespace {

using Segments = std::vector<SegmentSpan>;

std::int64_t shared_time(const PtsRange& a, const PtsRange& b) {
    return std::max<std::int64_t>(0, std::min(a.end, b.end) - std::max(a.start, b.start));
}

/// The hold that shares most time with `range`; the end of the list when none does.
Segments::iterator find_hold(Segments& segments, const PtsRange& range) {
    auto best = segments.end();
    std::int64_t most = 0;
    for (auto it = segments.begin(); it != segments.end(); ++it) {
        const std::int64_t shared = it->is_hold ? shared_time(it->range, range) : 0;
        if (shared > most) {
            most = shared;
            best = it;
        }
    }
    return best;
}

/// Cuts everything out of `range`: what lies across its ends is shortened, what lies inside is dropped.
Segments without(const Segments& segments, const PtsRange& range) {
    Segments kept;
    for (const SegmentSpan& segment : segments) {
        if (shared_time(segment.range, range) == 0) {
            kept.push_back(segment);
            continue;
        }
        SegmentSpan part = segment;
        part.corrected = true;
        part.range.end = std::min(segment.range.end, range.start);
        if (part.range.end > part.range.start) kept.push_back(part);
        part.range = {std::max(segment.range.start, range.end), segment.range.end};
        if (part.range.end > part.range.start) kept.push_back(part);
    }
    return kept;
}

/// Takes `hold` into the list at its own range.
void place(Segments& segments, SegmentSpan hold) {
    hold.corrected = true;
    segments = without(segments, hold.range);
    const auto next = std::find_if(segments.begin(), segments.end(),
                                   [&](const SegmentSpan& segment) { return segment.range.start > hold.range.start; });
    segments.insert(next, std::move(hold));
}

void split(Segments& segments, Segments::iterator hold, const HoldCorrection& correction) {
    const std::int64_t at = correction.at.value_or(hold->range.start);
    if (at <= hold->range.start || at >= hold->range.end) return;
    hold->corrected = true;
    SegmentSpan second = *hold;
    hold->range.end = at;
    second.range.start = at;
    if (correction.pose) second.pose = correction.pose;
    segments.insert(std::next(hold), std::move(second));
}

void join(Segments& segments, Segments::iterator hold, const PtsRange& other) {
    const auto second = find_hold(segments, other);
    if (second == segments.end() || second == hold) return;
    SegmentSpan whole = *hold;
    whole.range = {std::min(hold->range.start, second->range.start), std::max(hold->range.end, second->range.end)};
    place(segments, std::move(whole));
}

void move_bounds(Segments& segments, Segments::iterator hold, const PtsRange& range) {
    SegmentSpan moved = *hold;
    moved.range = range;
    segments.erase(hold);
    place(segments, std::move(moved));
}

void change(Segments& segments, Segments::iterator hold, const HoldCorrection& correction) {
    switch (correction.kind) {
        case CorrectionKind::relabelled:
            hold->pose = correction.pose;
            hold->corrected = true;
            return;
        case CorrectionKind::removed:
            hold->pose = std::nullopt;
            hold->is_hold = false;
            hold->corrected = true;
            return;
        case CorrectionKind::bounds:
            if (correction.range) move_bounds(segments, hold, *correction.range);
            return;
        case CorrectionKind::joined:
            if (correction.range) join(segments, hold, *correction.range);
            return;
        case CorrectionKind::split:
            split(segments, hold, correction);
            return;
        case CorrectionKind::added:
            return;
    }
}

void apply(Segments& segments, const HoldCorrection& correction) {
    if (correction.kind == CorrectionKind::added) {
        if (correction.range) place(segments, {*correction.range, true, correction.pose, std::nullopt, true});
        return;
    }
    if (!correction.about) return;
    const auto hold = find_hold(segments, *correction.about);
    if (hold != segments.end()) change(segments, hold, correction);
}

}  // namespace

std::vector<SegmentSpan> corrected_segments(std::vector<SegmentSpan> measured,
                                            std::span<const HoldCorrection> corrections) {
    for (std::size_t i = 0; i < measured.size(); ++i) {
        measured[i].measured = i;
        measured[i].corrected = false;
    }
    std::vector<const HoldCorrection*> in_order;
    for (const HoldCorrection& correction : corrections) {
        if (!correction.removed) in_order.push_back(&correction);
    }
    std::sort(in_order.begin(), in_order.end(),
              [](const HoldCorrection* a, const HoldCorrection* b) { return a->id < b->id; });
    for (const HoldCorrection* correction : in_order) apply(measured, *correction);
    return measured;
}

}  // namespace quarterturn::journal
