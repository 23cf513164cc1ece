#include "posing/motion_segments.hpp"

#include <algorithm>

namespace quarterturn::posing {
namespace {

/// How much of the movement near a still stretch is looked at to tell where it took place, and how much of that
/// movement must be at her place.
constexpr double near_s = 0.5;
constexpr double mostly = 0.5;

/// Mean share of the movement that is at the athlete's place; absent when nothing moves then.
std::optional<double> in_place(const body::MotionSeries& motion, const Stretch& stretch) {
    double sum = 0;
    int count = 0;
    for (std::size_t i = 0; i < motion.t_s.size(); ++i) {
        if (motion.t_s[i] < stretch.start_s || motion.t_s[i] > stretch.end_s || !motion.in_place[i]) continue;
        sum += *motion.in_place[i];
        ++count;
    }
    return count > 0 ? std::optional(sum / count) : std::nullopt;
}

/// A stretch whose movements on both sides are elsewhere is a rest near the phone, or the room without her.
bool at_her_place(const body::MotionSeries& motion, const Stretch& still) {
    const std::optional<double> before = in_place(motion, {still.start_s - near_s, still.start_s});
    const std::optional<double> after = in_place(motion, {still.end_s, still.end_s + near_s});
    if (!before && !after) return true;
    return before.value_or(0) >= mostly || after.value_or(0) >= mostly;
}

std::vector<TimedSegment> between(const body::MotionSeries& motion, const Stretch& gap, double longest_s) {
    if (gap.duration_s() <= 0) return {};
    if (gap.duration_s() <= longest_s) return {{SegmentKind::transition, gap}};
    if (in_place(motion, gap).value_or(1) < mostly) return {};  // she walks about
    return {{SegmentKind::pause, gap}};
}

}  // namespace

std::vector<TimedSegment> segments_of(const body::MotionSeries& motion, const AnalyseSettings& settings) {
    const SpeedSeries speed{motion.t_s, motion.speed};
    const PostureDistance distance = [&](const Stretch& before, const Stretch& after) {
        return motion.posture_change(before.start_s, before.end_s, after.start_s, after.end_s);
    };
    std::vector<TimedSegment> stills;
    for (const StillStretch& still : find_still_stretches(speed, distance, settings.holds))
        stills.push_back({at_her_place(motion, still.bounds) ? SegmentKind::hold : SegmentKind::pause, still.bounds});
    const auto is_hold = [](const TimedSegment& segment) { return segment.kind == SegmentKind::hold; };
    const auto first = std::find_if(stills.begin(), stills.end(), is_hold);
    const auto last = std::find_if(stills.rbegin(), stills.rend(), is_hold).base();

    std::vector<TimedSegment> segments;
    for (auto at = first; at != last && first != stills.end(); ++at) {
        if (at != first) {
            const Stretch gap{segments.back().bounds.end_s, at->bounds.start_s};
            const bool from_hold_to_hold = is_hold(*at) && is_hold(segments.back());
            if (from_hold_to_hold)
                for (const TimedSegment& segment : between(motion, gap, settings.longest_transition_s))
                    segments.push_back(segment);
        }
        segments.push_back(*at);
    }
    return segments;
}

}  // namespace quarterturn::posing
