#include "posing/motion_segments.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace quarterturn::posing {
namespace {

/// How much of the movement next to a still stretch is looked at to tell where it took place. At her place at least 0.9
/// of it was within the place in the films tried, coming from or going to the phone at most 0.7.
constexpr double near_s = 0.5;
constexpr double mostly = 0.8;
constexpr double hardly = 0.5;
/// Two looks at one posture differ by up to about 1 % of body height in pictures.
constexpr double picture_error = 0.01;

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

/// Whether the movements on both sides of a stretch are elsewhere: it is a rest near the phone, or the room without
/// her. Where the film begins or ends with it, the room without her is likely, and less is asked for.
bool elsewhere(const body::MotionSeries& motion, const Stretch& still) {
    const std::optional<double> before = in_place(motion, {still.start_s - near_s, still.start_s});
    const std::optional<double> after = in_place(motion, {still.end_s, still.end_s + near_s});
    if (!before && !after) return false;
    const bool at_an_end = still.start_s < motion.t_s.front() + near_s || still.end_s > motion.t_s.back() - near_s;
    return std::max(before.value_or(0), after.value_or(0)) < (at_an_end ? mostly : hardly);
}

std::vector<TimedSegment> between(const body::MotionSeries& motion, const Stretch& gap, double longest_s) {
    if (gap.duration_s() <= 0) return {};
    if (gap.duration_s() <= longest_s) return {{SegmentKind::transition, gap}};
    if (in_place(motion, gap).value_or(1) < hardly) return {};  // she walks about
    return {{SegmentKind::pause, gap}};
}

}  // namespace

std::vector<TimedSegment> segments_of(const body::MotionSeries& motion, const AnalyseSettings& settings) {
    const SpeedSeries speed{motion.t_s, motion.speed};
    std::map<std::array<double, 4>, std::optional<double>> asked;
    const PostureDistance distance = [&](const Stretch& before, const Stretch& after) -> std::optional<double> {
        // The finder asks for some pairs again; a search costs as much as decoding several pictures.
        const std::array<double, 4> key{before.start_s, before.end_s, after.start_s, after.end_s};
        const auto [entry, is_new] = asked.try_emplace(key);
        if (is_new) entry->second = motion.posture_change(before.start_s, before.end_s, after.start_s, after.end_s);
        const std::optional<double>& change = entry->second;
        return change ? std::optional(*change - picture_error) : std::nullopt;
    };
    const std::vector<StillStretch> stills = find_still_stretches(speed, distance, settings.holds);
    const auto hers = [&](const StillStretch& still) { return !elsewhere(motion, still.bounds); };
    const auto first = std::find_if(stills.begin(), stills.end(), hers);
    const auto last = std::find_if(stills.rbegin(), stills.rend(), hers).base();

    // Between the first and the last of hers every rest is a hold: she may pose elsewhere too, as at a stop of a walk.
    std::vector<TimedSegment> segments;
    for (auto at = first; at < last; ++at) {
        if (at != first) {
            const Stretch gap{segments.back().bounds.end_s, at->bounds.start_s};
            for (const TimedSegment& segment : between(motion, gap, settings.longest_transition_s))
                segments.push_back(segment);
        }
        segments.push_back({SegmentKind::hold, at->bounds});
    }
    return segments;
}

}  // namespace quarterturn::posing
