#include "posing/analyse_landmarks.hpp"

#include <algorithm>
#include <cmath>

#include "posing/checks.hpp"
#include "posing/hands.hpp"
#include "posing/landmark_joints.hpp"
#include "posing/moving_measures.hpp"

namespace quarterturn::posing {
namespace {

constexpr const char* needs_pictures = "it needs the pictures themselves";

/// The film's pictures as true seconds.
class PictureTimes {
  public:
    explicit PictureTimes(const LandmarkInput& input) : clip_(input.clip), pts_(input.picture_pts) {
        if (pts_.empty())
            for (const body::LandmarkFrame& frame : input.series.frames) pts_.push_back(frame.pts);
    }
    [[nodiscard]] std::int64_t nearest(double t_s) const {
        const auto later = std::lower_bound(pts_.begin(), pts_.end(), t_s,
                                            [&](std::int64_t pts, double t) { return seconds(pts) < t; });
        if (later == pts_.begin()) return *later;
        if (later == pts_.end()) return pts_.back();
        return t_s - seconds(*(later - 1)) < seconds(*later) - t_s ? *(later - 1) : *later;
    }
    [[nodiscard]] double seconds(std::int64_t pts) const {
        return seconds_between(clip_.first_pts, pts, clip_.time_base) * clip_.time_scale;
    }

  private:
    const body::ClipFacts& clip_;
    std::vector<std::int64_t> pts_;
};

Measured absent(const char* reason) {
    return {std::nullopt, reason};
}

Measured stillness_in(const SpeedSeries& speed, const Stretch& stretch) {
    double sum = 0;
    int count = 0;
    for (std::size_t i = 0; i < speed.t_s.size(); ++i) {
        if (speed.t_s[i] < stretch.start_s || speed.t_s[i] > stretch.end_s || !speed.speed[i]) continue;
        sum += *speed.speed[i];
        ++count;
    }
    return count > 0 ? Measured{sum / count, ""} : absent("too few pictures in it");
}

/// Middle of the half second that moves least, away from the ends.
double steadiest_in(const SpeedSeries& speed, const Stretch& stretch) {
    const double margin = std::min(0.5, stretch.duration_s() / 3);
    double best = (stretch.start_s + stretch.end_s) / 2, least = HUGE_VAL;
    for (const double t : speed.t_s) {
        if (t < stretch.start_s + margin || t > stretch.end_s - margin) continue;
        const Measured around = stillness_in(speed, {t - 0.25, t + 0.25});
        if (!around.value || *around.value >= least) continue;
        least = *around.value;
        best = t;
    }
    return best;
}

class Maker {
  public:
    Maker(const LandmarkInput& input, const LandmarkEvidence& seen, const AnalyseSettings& settings)
        : times_(input), seen_(seen), settings_(settings) {}

    [[nodiscard]] Segment make(const LandmarkSegment& from) const {
        Segment segment;
        segment.kind = from.kind;
        segment.start_pts = times_.nearest(from.bounds.start_s);
        segment.end_pts = times_.nearest(from.bounds.end_s);
        segment.start_s = times_.seconds(segment.start_pts);
        segment.end_s = times_.seconds(segment.end_pts);
        if (from.kind == SegmentKind::hold) make_hold(segment, from);
        if (from.kind == SegmentKind::pause) segment.confidence = from.fidgeting ? 0.7 : from.label.confidence;
        if (from.kind == SegmentKind::transition) measure_transition(segment, seen_);
        if (from.kind == SegmentKind::walk) {
            segment.stage = from.stage;
            measure_walk(segment, seen_, settings_.height_cm);
        }
        return segment;
    }

  private:
    void make_hold(Segment& hold, const LandmarkSegment& from) const {
        const Recognised& label = from.label;
        hold.pose = label.pose;
        hold.pose_reason = label.reason;
        hold.pose_confidence = label.pose ? label.confidence : 0;
        hold.pose_source = label.source;
        hold.side = label.side;
        hold.confidence = label.pose ? std::max(0.5, label.confidence) : 0.5;
        hold.facing_deg = from.features.facing_deg ? Measured{*from.features.facing_deg, ""} : absent("nobody is seen");
        hold.twist = {absent(needs_pictures), absent(needs_pictures), absent(needs_pictures)};
        hold.sway = {absent(needs_pictures), absent(needs_pictures), absent(needs_pictures)};
        const Stretch bounds{hold.start_s, hold.end_s};
        hold.stillness = stillness_in(seen_.speed, bounds);
        hold.steadiest_pts = times_.nearest(steadiest_in(seen_.speed, bounds));
        hold.hands = hands_in(seen_.course, seen_.swings, bounds, settings_.height_cm);
    }

    PictureTimes times_;
    const LandmarkEvidence& seen_;
    const AnalyseSettings& settings_;
};

LandmarkEvidence evidence_of(const LandmarkInput& input) {
    LandmarkEvidence seen;
    seen.course =
        body::course_of(input.series, {input.clip.mirrored, input.tilt_deg, input.clip.time_scale, input.shake});
    seen.facing = body::facing_of(seen.course);
    seen.speed = fastest_joint_speed(without_jumps(joints_of(seen.course, seen.facing)));
    seen.places = floor_places(seen.course);
    seen.swings = foot_swings(seen.course);
    return seen;
}

Signals signals_of(const LandmarkEvidence& seen) {
    Signals out;
    std::size_t at = 0;
    for (std::size_t i = 0; i < seen.course.frames.size(); ++i) {
        if (!seen.course.frames[i].present) continue;
        out.t_s.push_back(seen.course.frames[i].t_s);
        out.facing_deg.push_back(seen.facing.yaw_deg[i]);
        out.stillness.push_back(at < seen.speed.speed.size() ? seen.speed.speed[at] : std::nullopt);
        ++at;
    }
    out.twist_deg.resize(out.t_s.size());
    out.sway_cm.resize(out.t_s.size());
    return out;
}

}  // namespace

LandmarkAnalysis analyse_landmarks(const LandmarkInput& input, const std::optional<rules::RuleSet>& rules,
                                   const AnalyseSettings& settings) {
    LandmarkAnalysis out;
    out.seen = evidence_of(input);
    Analysis& analysis = out.analysis;
    analysis.clip = input.clip;
    analysis.method = Method::landmarks;
    if (rules) analysis.rule_set = rules->id;
    analysis.height_cm = settings.height_cm;
    auto& warnings = analysis.clip.warnings;
    for (const std::string& warning : input.series.warnings)
        if (std::find(warnings.begin(), warnings.end(), warning) == warnings.end()) warnings.push_back(warning);
    if (out.seen.course.height_px <= 0) {
        warnings.push_back("Nobody was found in this film.");
        return out;
    }
    const Maker maker(input, out.seen, settings);
    for (const LandmarkSegment& segment : landmark_segments(out.seen, rules, settings))
        analysis.segments.push_back(maker.make(segment));
    analysis.signals = signals_of(out.seen);
    analysis.turn_evenness = turn_evenness(analysis.segments);
    analysis.mirrored_suggested = looks_mirrored(analysis.segments);
    analysis.stage_walk = stage_walk_of(analysis.segments, rules);
    refresh_checks(analysis, out.seen, rules);
    return out;
}

void refresh_checks(Analysis& analysis, const LandmarkEvidence& seen, const std::optional<rules::RuleSet>& rules) {
    for (std::size_t i = 0; i < analysis.segments.size(); ++i) {
        Segment& hold = analysis.segments[i];
        hold.checks.clear();
        if (!rules || hold.kind != SegmentKind::hold || !hold.pose) continue;
        const rules::PoseExpectation* expected = rules->find_pose(*hold.pose);
        if (expected == nullptr) continue;
        CheckedHold checked{hold, seen, analysis.height_cm, {}, "no transition leads into it"};
        if (i > 0 && analysis.segments[i - 1].kind == SegmentKind::transition) {
            checked.steps_into_it = analysis.segments[i - 1].steps;
            checked.steps_reason = analysis.segments[i - 1].steps_reason;
        }
        hold.checks = checks_of(checked, *expected);
    }
}

}  // namespace quarterturn::posing
