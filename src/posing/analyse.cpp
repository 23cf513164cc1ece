#include "posing/analyse.hpp"

#include <algorithm>
#include <cmath>

#include "posing/motion_segments.hpp"
#include "rules/measured_mark.hpp"

namespace quarterturn::posing {
namespace {

constexpr const char* not_shown = "movement alone does not show it; analyze with landmarks";
/// Movement alone cannot tell a pose from standing about.
constexpr double surely_still = 0.5;
constexpr double most_by_order = 0.5;

/// The film's pictures as true seconds.
class Pictures {
  public:
    explicit Pictures(const body::ObservedMotion& seen) : clip_(seen.clip), pts_(seen.motion.picture_pts) {}

    [[nodiscard]] std::size_t nearest(double t_s) const {
        const auto later = std::lower_bound(pts_.begin(), pts_.end(), t_s,
                                            [&](std::int64_t pts, double t) { return seconds_of(pts) < t; });
        auto rank = static_cast<std::size_t>(later - pts_.begin());
        if (rank == pts_.size() || (rank > 0 && t_s - seconds(rank - 1) < seconds(rank) - t_s)) --rank;
        return rank;
    }
    [[nodiscard]] double seconds(std::size_t rank) const { return seconds_of(pts_[rank]); }
    [[nodiscard]] std::int64_t pts(std::size_t rank) const { return pts_[rank]; }
    [[nodiscard]] std::size_t last() const { return pts_.size() - 1; }

  private:
    [[nodiscard]] double seconds_of(std::int64_t pts) const {
        return seconds_between(clip_.first_pts, pts, clip_.time_base) * clip_.time_scale;
    }
    const body::ClipFacts& clip_;
    const std::vector<std::int64_t>& pts_;
};

Measured absent(const char* reason) {
    return {std::nullopt, reason};
}

/// Mean of the speed over the stretch.
Measured stillness_in(const body::MotionSeries& motion, const Stretch& stretch) {
    double sum = 0;
    int count = 0;
    for (std::size_t i = 0; i < motion.t_s.size(); ++i) {
        if (motion.t_s[i] < stretch.start_s || motion.t_s[i] > stretch.end_s || !motion.speed[i]) continue;
        sum += *motion.speed[i];
        ++count;
    }
    return count > 0 ? Measured{sum / count, ""} : absent("too few pictures in it");
}

/// Middle of the half second that moves least, away from the ends where the body is still settling.
double steadiest_in(const body::MotionSeries& motion, const Stretch& stretch) {
    constexpr double half_window_s = 0.25;
    const double margin = std::min(0.5, stretch.duration_s() / 3);
    double best = (stretch.start_s + stretch.end_s) / 2;
    double least = HUGE_VAL;
    for (const double t : motion.t_s) {
        if (t < stretch.start_s + margin || t > stretch.end_s - margin) continue;
        const Measured around = stillness_in(motion, {t - half_window_s, t + half_window_s});
        if (!around.value || *around.value >= least) continue;
        least = *around.value;
        best = t;
    }
    return best;
}

void set_bounds(Segment& segment, const Stretch& bounds, const body::MotionSeries& motion, const Pictures& pictures) {
    // The first and last sample stand for the film's ends: movement is only known between pictures.
    const bool from_start = bounds.start_s <= motion.t_s.front();
    const bool to_end = bounds.end_s >= motion.t_s.back();
    const std::size_t start = from_start ? 0 : pictures.nearest(bounds.start_s);
    const std::size_t end = to_end ? pictures.last() : pictures.nearest(bounds.end_s);
    segment.start_pts = pictures.pts(start);
    segment.end_pts = pictures.pts(end);
    segment.start_s = pictures.seconds(start);
    segment.end_s = pictures.seconds(end);
}

Segment hold_of(const Stretch& bounds, const body::MotionSeries& motion, const Pictures& pictures) {
    Segment hold;
    hold.facing_deg = absent(not_shown);
    hold.twist = {absent(not_shown), absent(not_shown), absent(not_shown)};
    hold.sway = {absent(not_shown), absent(not_shown), absent(not_shown)};
    hold.stillness = stillness_in(motion, bounds);
    hold.steadiest_pts = pictures.pts(pictures.nearest(steadiest_in(motion, bounds)));
    return hold;
}

Segment segment_of(const TimedSegment& timed, const body::MotionSeries& motion, const Pictures& pictures) {
    Segment segment;
    if (timed.kind == SegmentKind::hold) segment = hold_of(timed.bounds, motion, pictures);
    segment.kind = timed.kind;
    segment.confidence = surely_still;
    set_bounds(segment, timed.bounds, motion, pictures);
    if (timed.kind == SegmentKind::transition) {
        segment.turn_deg = absent(not_shown);
        segment.steps_reason = not_shown;
    }
    return segment;
}

std::vector<Segment*> holds_in(std::vector<Segment>& segments) {
    std::vector<Segment*> holds;
    for (Segment& segment : segments)
        if (segment.kind == SegmentKind::hold) holds.push_back(&segment);
    return holds;
}

Check check_of(const rules::ChecklistItem& item, const rules::PoseExpectation& pose, const Measured& value,
               const char* unit, double confidence) {
    Check check{item.id, value, unit, {}, {}, item.published, confidence};
    const std::optional<rules::Limit> limit = rules::limit_of(pose, item);
    if (!limit) return check;
    check.limit = limit->value;
    check.unit = limit->unit;
    if (value.value) check.met = rules::is_met(*value.value, *limit);
    return check;
}

/// The two items that movement alone can answer.
void add_checks(Segment& hold, const rules::PoseExpectation& pose) {
    if (const rules::ChecklistItem* item = pose.find_item("hold_length"); item != nullptr && item->measured)
        hold.checks.push_back(check_of(*item, pose, {hold.duration_s(), ""}, "s", hold.pose_confidence));
    if (const rules::ChecklistItem* item = pose.find_item("stillness"); item != nullptr && item->measured)
        hold.checks.push_back(check_of(*item, pose, hold.stillness, "body heights/s", hold.pose_confidence));
}

void label_by_order(const std::vector<Segment*>& holds, const rules::RuleSet& rules, const CallOrderCosts& costs) {
    std::vector<double> durations;
    for (const Segment* hold : holds) durations.push_back(hold->duration_s());
    const std::vector<CalledHold> called = align_with_call_order(durations, rules.call_order, {}, costs);
    for (std::size_t i = 0; i < holds.size(); ++i) {
        Segment& hold = *holds[i];
        if (!called[i].call) {
            hold.pose_reason = "it does not fit the call order";
            continue;
        }
        hold.pose = rules.call_order[*called[i].call];
        hold.pose_source = PoseSource::order;
        hold.pose_confidence = most_by_order * called[i].probability;
        const rules::PoseExpectation* expected = rules.find_pose(*hold.pose);
        if (expected != nullptr) add_checks(hold, *expected);
    }
}

Signals signals_of(const body::MotionSeries& motion) {
    const std::vector<std::optional<double>> nothing(motion.t_s.size());
    return {motion.t_s, motion.speed, nothing, nothing, nothing};
}

}  // namespace

Analysis analyse_motion(const body::ObservedMotion& seen, const std::optional<rules::RuleSet>& rules,
                        const AnalyseSettings& settings) {
    Analysis analysis;
    analysis.clip = seen.clip;
    analysis.method = Method::motion;
    if (rules) analysis.rule_set = rules->id;
    analysis.height_cm = settings.height_cm;
    analysis.signals = signals_of(seen.motion);
    if (!seen.motion.place || seen.motion.t_s.empty()) {
        analysis.clip.warnings.push_back("Nothing moves in this film, so nobody was found in it.");
        return analysis;
    }
    const Pictures pictures(seen);
    for (const TimedSegment& timed : segments_of(seen.motion, settings))
        analysis.segments.push_back(segment_of(timed, seen.motion, pictures));
    const std::vector<Segment*> holds = holds_in(analysis.segments);
    if (rules)
        label_by_order(holds, *rules, settings.call_order);
    else
        for (Segment* hold : holds) hold->pose_reason = "movement alone does not show the pose; name a rule set";
    return analysis;
}

}  // namespace quarterturn::posing
