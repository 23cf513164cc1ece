#include "posing/moving_measures.hpp"

#include <algorithm>
#include <cmath>

#include "posing/smoothness.hpp"

namespace quarterturn::posing {
namespace {

constexpr double feet_needed = 0.8;
constexpr const char* feet_unseen = "the feet are hidden or out of the picture";

/// Median unwrapped facing around a time.
std::optional<double> facing_about(const LandmarkEvidence& seen, double from_s, double to_s) {
    std::vector<double> values;
    for (std::size_t i = 0; i < seen.course.frames.size(); ++i) {
        const double t = seen.course.frames[i].t_s;
        if (t >= from_s && t <= to_s && seen.facing.yaw_deg[i]) values.push_back(*seen.facing.yaw_deg[i]);
    }
    if (values.empty()) return std::nullopt;
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

Measured smoothness_in(const SpeedSeries& speed, const Stretch& stretch) {
    constexpr double around_s = 0.2;  // rest on both sides belongs to a movement from rest to rest
    std::vector<double> values;
    double first = 0, last = 0;
    for (std::size_t i = 0; i < speed.t_s.size(); ++i) {
        if (speed.t_s[i] < stretch.start_s - around_s || speed.t_s[i] > stretch.end_s + around_s) continue;
        if (!speed.speed[i]) return {std::nullopt, "she is not seen all the way"};
        if (values.empty()) first = speed.t_s[i];
        last = speed.t_s[i];
        values.push_back(*speed.speed[i]);
    }
    if (values.size() < 6 || last <= first) return {std::nullopt, "it is too short"};
    const double rate = static_cast<double>(values.size() - 1) / (last - first);
    const std::optional<double> arc = spectral_arc_length(values, rate);
    return arc ? Measured{*arc, ""} : Measured{std::nullopt, "nothing moves"};
}

double spread_over_mean(const std::vector<double>& values) {
    double mean = 0, squares = 0;
    for (const double value : values) mean += value / static_cast<double>(values.size());
    for (const double value : values) squares += (value - mean) * (value - mean);
    return 100 * std::sqrt(squares / static_cast<double>(values.size() - 1)) / mean;
}

bool quarter_pose(const Segment& segment) {
    return segment.kind == SegmentKind::hold && segment.pose && segment.pose->starts_with("quarter_");
}

/// Times from one foot's step to the other's.
std::vector<double> step_times(const std::vector<FootSwing>& landings) {
    std::vector<double> times;
    for (std::size_t i = 1; i < landings.size(); ++i)
        if (landings[i].foot != landings[i - 1].foot) times.push_back(landings[i].middle_s - landings[i - 1].middle_s);
    return times;
}

double median_of(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

/// Steps counted on from the first, where each follows the one before by about the usual time or, when the other
/// foot's was not seen, twice that; a new chain begins where neither holds.
struct Counted {
    int chain = 0, rank = 0;
    double middle_s = 0, error_s = 0;
};

std::vector<Counted> counted_steps(const std::vector<FootSwing>& landings, double usual_s) {
    constexpr double most_off = 0.3;
    std::vector<Counted> out;
    for (std::size_t i = 0; i < landings.size(); ++i) {
        Counted step{0, 0, landings[i].middle_s, landings[i].error_s};
        if (i > 0) {
            const int ranks = landings[i].foot == landings[i - 1].foot ? 2 : 1;
            const double gap = landings[i].middle_s - landings[i - 1].middle_s;
            const bool follows = std::abs(gap - ranks * usual_s) <= most_off * usual_s;
            step.chain = out.back().chain + (follows ? 0 : 1);
            step.rank = out.back().rank + ranks;
        }
        out.push_back(step);
    }
    return out;
}

/// Median of the times per step from every step to every later one (Theil 1950; Sen 1968, J Am Stat Assoc 63:1379),
/// each weighted by how sure both are: one step that is placed wrongly moves it little.
double usual_time(const std::vector<FootSwing>& landings, const std::vector<double>& times) {
    constexpr double least_error_s = 0.006;
    const std::vector<Counted> steps = counted_steps(landings, median_of(times));
    struct Weighted {
        double time, weight;
    };
    std::vector<Weighted> all;
    double total = 0;
    for (std::size_t i = 0; i < steps.size(); ++i)
        for (std::size_t k = i + 1; k < steps.size(); ++k) {
            if (steps[k].chain != steps[i].chain) continue;
            const double ranks = steps[k].rank - steps[i].rank;
            const double error = std::hypot(steps[i].error_s, steps[k].error_s, least_error_s);
            all.push_back({(steps[k].middle_s - steps[i].middle_s) / ranks, 1 / (error * error)});
            total += all.back().weight;
        }
    if (all.empty()) return median_of(times);
    std::sort(all.begin(), all.end(), [](const Weighted& a, const Weighted& b) { return a.time < b.time; });
    double below = 0;
    for (std::size_t i = 0; i + 1 < all.size(); ++i) {
        below += all[i].weight;
        const double over_half = below - total / 2;
        if (std::abs(over_half) < 1e-9 * total) return (all[i].time + all[i + 1].time) / 2;
        if (over_half > 0) return all[i].time;
    }
    return all.back().time;
}

}  // namespace

void measure_transition(Segment& segment, const LandmarkEvidence& seen) {
    constexpr double look_s = 0.4;
    const Stretch bounds{segment.start_s, segment.end_s};
    const auto before = facing_about(seen, bounds.start_s - look_s, bounds.start_s);
    const auto after = facing_about(seen, bounds.end_s, bounds.end_s + look_s);
    segment.turn_deg = before && after ? Measured{*after - *before, ""} : Measured{std::nullopt, "nobody is seen"};
    segment.smoothness = smoothness_in(seen.speed, bounds);
    if (feet_seen(seen.course, bounds) < feet_needed) {
        segment.steps_reason = feet_unseen;
        return;
    }
    // the last landing is found when the foot has come to rest, a little into the hold
    constexpr double late_s = 0.12;
    segment.steps = static_cast<int>(landings_in(seen.swings, {bounds.start_s + 0.1, bounds.end_s + late_s}).size());
    const double quarters = std::max(1.0, std::round(std::abs(segment.turn_deg.value.value_or(0)) / 90));
    segment.extra_steps = std::max(0, *segment.steps - 2 * static_cast<int>(quarters));
}

void measure_walk(Segment& segment, const LandmarkEvidence& seen, std::optional<double> height_cm) {
    constexpr double late_s = 0.1;
    const Stretch bounds{segment.start_s, segment.end_s};
    const std::vector<FootSwing> landings = landings_in(seen.swings, {bounds.start_s, bounds.end_s + late_s});
    if (feet_seen(seen.course, bounds) >= feet_needed)
        segment.steps = static_cast<int>(landings.size());
    else
        segment.steps_reason = feet_unseen;
    const std::vector<double> times = step_times(landings);
    segment.cadence_per_min = {std::nullopt, "fewer than three steps in a row are seen"};
    segment.step_evenness = segment.cadence_per_min;
    if (times.size() >= 2) {
        segment.cadence_per_min = {60 / usual_time(landings, times), ""};
        segment.step_evenness = {spread_over_mean(times), ""};
    }
    segment.path = Measured{path_length(seen.places, bounds) * height_cm.value_or(100) / 100, ""};
}

Measured turn_evenness(const std::vector<Segment>& segments) {
    std::vector<double> lengths;
    for (std::size_t i = 1; i + 1 < segments.size(); ++i) {
        const Segment& s = segments[i];
        if (s.kind != SegmentKind::transition || !s.turn_deg.value) continue;
        const double turn = std::abs(*s.turn_deg.value);
        if (turn >= 60 && turn <= 120 && quarter_pose(segments[i - 1]) && quarter_pose(segments[i + 1]))
            lengths.push_back(s.duration_s());
    }
    if (lengths.size() < 3) return {std::nullopt, "fewer than three quarter turns"};
    return {spread_over_mean(lengths), ""};
}

std::optional<bool> looks_mirrored(const std::vector<Segment>& segments) {
    int right = 0, left = 0;
    for (std::size_t i = 1; i + 1 < segments.size(); ++i) {
        const Segment& s = segments[i];
        if (s.kind != SegmentKind::transition || !s.turn_deg.value) continue;
        const bool quarter = std::abs(std::abs(*s.turn_deg.value) - 90) < 35;
        if (!quarter || !quarter_pose(segments[i - 1]) || !quarter_pose(segments[i + 1])) continue;
        (*s.turn_deg.value > 0 ? right : left) += 1;
    }
    if (right + left < 2 || (right > 0 && left > 0)) return std::nullopt;
    return left > 0;
}

std::optional<StageWalk> stage_walk_of(const std::vector<Segment>& segments,
                                       const std::optional<rules::RuleSet>& rules) {
    const auto on_stage = [](const Segment& s) { return s.kind == SegmentKind::walk && s.stage.value_or(false); };
    const auto first = std::find_if(segments.begin(), segments.end(), on_stage);
    if (first == segments.end()) return std::nullopt;
    const auto last = std::find_if(segments.rbegin(), segments.rend(), on_stage).base();
    StageWalk walk;
    walk.start_s = first->start_s;
    walk.end_s = (last - 1)->end_s;
    for (auto at = first; at != last; ++at)
        if (at->kind == SegmentKind::hold || at->kind == SegmentKind::pause)
            walk.stops.push_back({at->start_s, at->end_s});
    if (!rules) return walk;
    if (const rules::RoundLimit* limit = rules->find_round_limit("walk")) walk.limit_s = limit->seconds;
    if (const rules::RoundLimit* limit = rules->find_round_limit("walk_stop")) walk.stop_limit_s = limit->seconds;
    return walk;
}

}  // namespace quarterturn::posing
