#include "posing/landmark_segments.hpp"

#include <algorithm>
#include <cmath>

#include "posing/behind_head.hpp"
#include "posing/landmark_joints.hpp"

namespace quarterturn::posing {
namespace {

using enum body::Joint;

/// She stands so near to the phone that she is starting or stopping it.
constexpr double at_the_phone = 1.45;
constexpr double shortest_piece_s = 0.1;

double height_in(const body::BodyCourse& course, const Stretch& stretch) {
    double sum = 0;
    int count = 0;
    for (const body::CourseFrame& frame : course.frames) {
        if (!frame.present || frame.t_s < stretch.start_s || frame.t_s > stretch.end_s) continue;
        sum += frame.height_px;
        ++count;
    }
    return count > 0 ? sum / count : 0;
}

bool present_in(const body::BodyCourse& course, const Stretch& stretch) {
    int all = 0, present = 0;
    for (const body::CourseFrame& frame : course.frames) {
        if (frame.t_s < stretch.start_s || frame.t_s > stretch.end_s) continue;
        ++all;
        present += frame.present ? 1 : 0;
    }
    return all == 0 || 2 * present > all;
}

/// Longest stretch within the gap with a hand at the head. One that reaches an end of the gap is the way into or out of
/// a pose with the hands there, unless it lasts.
std::optional<Stretch> at_the_hair(const body::BodyCourse& course, const Stretch& gap) {
    constexpr double shortest_s = 1.0;
    constexpr double shortest_at_an_end_s = 2.5;
    constexpr double at_the_end_s = 0.3;
    std::optional<Stretch> best, now;
    for (const body::CourseFrame& frame : course.frames) {
        if (frame.t_s < gap.start_s || frame.t_s > gap.end_s) continue;
        if (!hand_at_head(frame)) {
            now.reset();
            continue;
        }
        now = Stretch{now ? now->start_s : frame.t_s, frame.t_s};
        if (!best || now->duration_s() > best->duration_s()) best = now;
    }
    if (!best) return std::nullopt;
    const bool reaches_an_end = best->start_s - gap.start_s < at_the_end_s || gap.end_s - best->end_s < at_the_end_s;
    return best->duration_s() >= (reaches_an_end ? shortest_at_an_end_s : shortest_s) ? best : std::nullopt;
}

class Filler {
  public:
    Filler(const LandmarkEvidence& seen, const AnalyseSettings& settings, std::vector<LandmarkSegment>& out)
        : seen_(seen), settings_(settings), out_(out) {}

    /// Between two still stretches, or at an end of the clip (`outside`), where only walking counts.
    void fill(const Stretch& gap, bool outside) {
        if (gap.duration_s() < shortest_piece_s) return;
        double at = gap.start_s;
        for (const Stretch& walk : walks_in(seen_.places, seen_.swings, gap)) {
            const bool inner = !outside || at > gap.start_s || gap.start_s > 0.01;
            if (inner) rest({at, walk.start_s});
            put(SegmentKind::walk, {std::max(at, walk.start_s), walk.end_s});
            at = walk.end_s;
        }
        const bool after_a_walk = at > gap.start_s;
        const bool ends_the_clip = outside && gap.start_s > 0.01;
        if (!ends_the_clip && (!outside || after_a_walk)) rest({at, gap.end_s});
    }

  private:
    void put(SegmentKind kind, const Stretch& bounds) {
        if (bounds.duration_s() < shortest_piece_s) return;
        LandmarkSegment& segment = out_.emplace_back();
        segment.kind = kind;
        segment.bounds = bounds;
    }

    void rest(const Stretch& gap) {
        if (gap.duration_s() < shortest_piece_s || !present_in(seen_.course, gap)) return;
        if (const std::optional<Stretch> hair = at_the_hair(seen_.course, gap)) {
            put(SegmentKind::transition, {gap.start_s, hair->start_s});
            put(SegmentKind::pause, *hair);
            if (!out_.empty() && out_.back().kind == SegmentKind::pause) out_.back().fidgeting = true;
            put(SegmentKind::transition, {hair->end_s, gap.end_s});
            return;
        }
        put(gap.duration_s() <= settings_.longest_transition_s ? SegmentKind::transition : SegmentKind::pause, gap);
    }

    const LandmarkEvidence& seen_;
    const AnalyseSettings& settings_;
    std::vector<LandmarkSegment>& out_;
};

std::vector<LandmarkSegment> labelled(const LandmarkEvidence& seen, const std::vector<StillStretch>& stills,
                                      const std::optional<rules::RuleSet>& rules, const AnalyseSettings& settings) {
    std::vector<LandmarkSegment> out;
    std::vector<PoseFeatures> features;
    std::vector<double> lengths;
    for (const StillStretch& still : stills) {
        const double height = height_in(seen.course, still.bounds);
        if (height <= 0 || height > at_the_phone * seen.course.height_px) continue;
        LandmarkSegment segment;
        segment.bounds = still.bounds;
        segment.features = features_in(seen.course, seen.facing, still.bounds);
        features.push_back(segment.features);
        lengths.push_back(still.bounds.duration_s());
        out.push_back(segment);
    }
    RecognitionSettings recognition;
    const std::vector<std::string> call_order = rules ? rules->call_order : std::vector<std::string>{};
    if (rules)
        for (const rules::PoseExpectation& pose : rules->poses) recognition.asked.push_back(pose.pose);
    const auto labels = recognise(features, lengths, call_order, settings.call_order, recognition);
    for (std::size_t i = 0; i < out.size(); ++i) {
        out[i].label = labels[i];
        out[i].kind = labels[i].pause ? SegmentKind::pause : SegmentKind::hold;
    }
    return out;
}

/// Hands that tidy hair come to rest now and then: it is one pause until they leave the head.
std::vector<LandmarkSegment> with_hair_joined(const std::vector<LandmarkSegment>& kept,
                                              const body::BodyCourse& course) {
    constexpr double longest_gap_s = 1.0;
    std::vector<LandmarkSegment> out;
    for (const LandmarkSegment& segment : kept) {
        const bool pauses = !out.empty() && out.back().label.pause && segment.label.pause;
        const Stretch both{out.empty() ? 0 : out.back().bounds.start_s, segment.bounds.end_s};
        if (pauses && segment.bounds.start_s - out.back().bounds.end_s <= longest_gap_s &&
            hand_at_head(course, {out.back().bounds.start_s, out.back().bounds.end_s}) &&
            hand_at_head(course, {out.back().bounds.end_s, both.end_s}))
            out.back().bounds = both;
        else
            out.push_back(segment);
    }
    return out;
}

void mark_stage_walks(std::vector<LandmarkSegment>& segments) {
    const auto is_hold = [](const LandmarkSegment& s) { return s.kind == SegmentKind::hold; };
    const auto first = std::find_if(segments.begin(), segments.end(), is_hold);
    const auto last = std::find_if(segments.rbegin(), segments.rend(), is_hold).base();
    for (auto at = first; at < last; ++at) at->stage = at->kind == SegmentKind::walk;
}

}  // namespace

std::vector<LandmarkSegment> landmark_segments(const LandmarkEvidence& seen, const std::optional<rules::RuleSet>& rules,
                                               const AnalyseSettings& settings) {
    const JointSeries joints = joints_of(seen.course, seen.facing);
    const std::vector<StillStretch> stills =
        parted_behind_head(still_stretches_of(joints, settings.holds), seen.course, settings.holds);
    const std::vector<LandmarkSegment> kept = with_hair_joined(labelled(seen, stills, rules, settings), seen.course);
    std::vector<LandmarkSegment> out;
    if (seen.course.frames.empty()) return out;
    Filler filler(seen, settings, out);
    double at = seen.course.frames.front().t_s;
    for (const LandmarkSegment& segment : kept) {
        filler.fill({at, segment.bounds.start_s}, &segment == &kept.front());
        out.push_back(segment);
        at = segment.bounds.end_s;
    }
    filler.fill({at, seen.course.frames.back().t_s}, true);
    mark_stage_walks(out);
    return out;
}

}  // namespace quarterturn::posing
