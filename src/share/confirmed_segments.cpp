#include "share/confirmed_segments.hpp"

#include <cmath>

#include "journal/corrected_segments.hpp"

namespace quarterturn::share {
namespace {

using posing::Segment;
using posing::SegmentKind;

constexpr const char* other_bounds = "a person changed where it begins and ends";
constexpr const char* added_by_person = "a person added it";

std::vector<journal::SegmentSpan> spans_of(const posing::Analysis& analysis) {
    std::vector<journal::SegmentSpan> spans;
    for (std::size_t i = 0; i < analysis.segments.size(); ++i) {
        const Segment& segment = analysis.segments[i];
        spans.push_back({.range = {segment.start_pts, segment.end_pts},
                         .is_hold = segment.kind == SegmentKind::hold,
                         .pose = segment.pose,
                         .measured = i,
                         .corrected = false});
    }
    return spans;
}

/// Corrections with every pts in the analysis' time base.
std::vector<journal::HoldCorrection> in_base(std::span<const journal::HoldCorrection> corrections, TimeBase base) {
    std::vector<journal::HoldCorrection> out(corrections.begin(), corrections.end());
    for (journal::HoldCorrection& correction : out) {
        if (correction.base == base) continue;
        const auto moved = [&](std::int64_t pts) { return rescale(pts, correction.base, base); };
        if (correction.about) correction.about = {moved(correction.about->start), moved(correction.about->end)};
        if (correction.range) correction.range = {moved(correction.range->start), moved(correction.range->end)};
        if (correction.at) correction.at = moved(*correction.at);
        correction.base = base;
    }
    return out;
}

void forget_measures(Segment& segment, const char* reason) {
    const posing::Measured absent{std::nullopt, reason};
    segment.facing_deg = segment.stillness = segment.turn_deg = segment.cadence_per_min = absent;
    segment.twist = {absent, absent, absent};
    segment.sway = {absent, absent, absent};
    segment.steps.reset();
    segment.steps_reason = reason;
    segment.checks.clear();
}

/// The moment of least movement between the bounds; their middle where no curve tells.
std::int64_t steadiest_between(const posing::Analysis& analysis, const Segment& segment) {
    const posing::Signals& signals = analysis.signals;
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < signals.t_s.size() && i < signals.stillness.size(); ++i) {
        if (signals.t_s[i] < segment.start_s || signals.t_s[i] > segment.end_s || !signals.stillness[i]) continue;
        if (!best || *signals.stillness[i] < *signals.stillness[*best]) best = i;
    }
    if (!best) return segment.start_pts + (segment.end_pts - segment.start_pts) / 2;
    const posing::ClipFacts& clip = analysis.clip;
    const double stored_s = clip.time_scale > 0 ? signals.t_s[*best] / clip.time_scale : signals.t_s[*best];
    return nearest_tick(stored_s, clip.time_base, clip.first_pts);
}

SegmentKind kind_of(const journal::SegmentSpan& span, const Segment* measured) {
    if (span.is_hold) return SegmentKind::hold;
    if (measured == nullptr || measured->kind == SegmentKind::hold) return SegmentKind::pause;
    return measured->kind;
}

void set_bounds(const posing::Analysis& analysis, const journal::PtsRange& range, const char* reason,
                Segment& segment) {
    const TimeBase base = analysis.clip.time_base;
    segment.start_pts = range.start;
    segment.end_pts = range.end;
    segment.start_s = true_seconds(analysis.clip, {range.start, base});
    segment.end_s = true_seconds(analysis.clip, {range.end, base});
    segment.confidence = 1;
    forget_measures(segment, reason);
    const bool inside = segment.steadiest_pts >= range.start && segment.steadiest_pts < range.end;
    if (segment.kind == SegmentKind::hold && (!inside || reason == added_by_person))
        segment.steadiest_pts = steadiest_between(analysis, segment);
}

void set_pose(const std::optional<std::string>& pose, SegmentView& view) {
    view.now.pose = pose;
    view.now.pose_confidence = pose ? 1 : 0;
    view.now.pose_source = posing::PoseSource::none;
    view.now.pose_reason = pose ? "" : "a person said so";
    view.now.side.reset();
    view.pose_by_person = true;
}

SegmentView view_of(const posing::Analysis& analysis, const journal::SegmentSpan& span) {
    const bool known = span.measured && *span.measured < analysis.segments.size();
    const Segment* measured = known ? &analysis.segments[*span.measured] : nullptr;
    SegmentView view;
    if (measured != nullptr) view.now = *measured;
    if (!span.corrected && measured != nullptr) return view;
    view.corrected = true;
    if (measured != nullptr) view.measured = *measured;
    view.now.kind = kind_of(span, measured);
    const bool same = measured != nullptr && span.range == journal::PtsRange{measured->start_pts, measured->end_pts};
    if (!same) set_bounds(analysis, span.range, measured != nullptr ? other_bounds : added_by_person, view.now);
    if (view.is_hold() && (measured == nullptr || span.pose != measured->pose)) set_pose(span.pose, view);
    if (!view.is_hold()) view.now.pose.reset();
    return view;
}

}  // namespace

double true_seconds(const posing::ClipFacts& clip, const MediaTime& moment) {
    const std::int64_t pts = rescale(moment.pts, moment.base, clip.time_base);
    return seconds_between(clip.first_pts, pts, clip.time_base) * clip.time_scale;
}

std::vector<SegmentView> confirmed_segments(const posing::Analysis& analysis,
                                            std::span<const journal::HoldCorrection> corrections) {
    const auto ours = in_base(corrections, analysis.clip.time_base);
    std::vector<SegmentView> views;
    for (const journal::SegmentSpan& span : journal::corrected_segments(spans_of(analysis), ours))
        views.push_back(view_of(analysis, span));
    return views;
}

}  // namespace quarterturn::share
