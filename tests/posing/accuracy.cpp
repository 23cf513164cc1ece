#include "accuracy.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quarterturn::test {
namespace {

using posing::Segment;
using posing::SegmentKind;
using sample::TrueKind;
using sample::TrueSegment;

double shared(const Segment& found, const TrueSegment& truth) {
    return std::min(found.end_s, truth.end_s) - std::max(found.start_s, truth.start_s);
}

bool still(const Segment& s) {
    return s.kind == SegmentKind::hold || s.kind == SegmentKind::pause;
}

const Segment* partner(const std::vector<Segment>& found, const TrueSegment& truth, bool stills,
                       std::vector<bool>& used) {
    std::size_t best = found.size();
    double most = 0.5 * truth.duration_s();
    for (std::size_t i = 0; i < found.size(); ++i) {
        if (used[i] || still(found[i]) != stills || shared(found[i], truth) <= most) continue;
        most = shared(found[i], truth);
        best = i;
    }
    if (best == found.size()) return nullptr;
    used[best] = true;
    return &found[best];
}

void score_hold(const Segment& found, const TrueSegment& truth, Accuracy& out) {
    ++out.holds;
    const double error = found.duration_s() - truth.duration_s();
    out.length_errors_s.push_back(std::abs(error));
    out.start_errors_s.push_back(found.start_s - truth.start_s);
    out.end_errors_s.push_back(found.end_s - truth.end_s);
    if (std::abs(error) > 0.25)
        out.faults.push_back(fmt::format("{:.2f} {}: length off by {:.2f} s (start {:+.2f})", truth.start_s, truth.pose,
                                         error, found.start_s - truth.start_s));
    if (found.facing_deg.value)
        out.facing_errors_deg.push_back(std::abs(std::remainder(*found.facing_deg.value - truth.facing_deg, 360)));
    const bool side_right = truth.side.empty() || found.side == truth.side;
    if (found.pose == truth.pose && side_right) {
        ++out.labels;
        return;
    }
    if (found.pose) ++out.labels_wrong;
    out.faults.push_back(fmt::format("{:.2f} {} {} taken for {} ({:.2f} {})", truth.start_s, truth.pose, truth.side,
                                     found.pose.value_or("nothing"), found.pose_confidence, found.pose_reason));
}

void score_walk(const Segment* found, const TrueSegment& truth, const sample::Truth& all, Accuracy& out) {
    std::vector<double> landings;
    for (const auto& step : all.foot_steps)
        if (step.land_s > truth.start_s && step.land_s <= truth.end_s) landings.push_back(step.land_s);
    if (!truth.stage) return;
    if (found == nullptr || found->kind != SegmentKind::walk) {
        out.faults.push_back(fmt::format("{:.2f} stage walk not found", truth.start_s));
        out.step_errors.push_back(truth.steps);
        return;
    }
    if (!found->stage.value_or(false))
        out.faults.push_back(fmt::format("{:.2f} stage walk taken for the way to the phone", truth.start_s));
    if (found->steps) out.step_errors.push_back(std::abs(*found->steps - truth.steps));
    if (found->steps && std::abs(*found->steps - truth.steps) > 1)
        out.faults.push_back(fmt::format("{:.2f} walk of {} steps: {}", truth.start_s, truth.steps, *found->steps));
    if (landings.size() < 3 || !found->cadence_per_min.value) return;
    std::vector<double> times;
    for (std::size_t i = 1; i < landings.size(); ++i) times.push_back(landings[i] - landings[i - 1]);
    const double cadence = 60 / percentile(times, 0.5);
    out.cadence_errors.push_back(std::abs(*found->cadence_per_min.value - cadence));
    if (out.cadence_errors.back() > 3)
        out.faults.push_back(
            fmt::format("{:.2f} cadence {:.1f}: {:.1f}", truth.start_s, cadence, *found->cadence_per_min.value));
}

}  // namespace

double percentile(std::vector<double> values, double share) {
    if (values.empty()) return 0;
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1) + 0.5);
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

Accuracy accuracy_of(const posing::Analysis& analysis, const sample::Truth& truth) {
    Accuracy out;
    std::vector<bool> used(analysis.segments.size());
    for (const TrueSegment& segment : truth.segments) {
        const bool kept = segment.kind == TrueKind::hold || segment.kind == TrueKind::pause;
        const Segment* found = partner(analysis.segments, segment, kept, used);
        if (kept) {
            ++out.stills;
            const bool hold = segment.kind == TrueKind::hold;
            if (found == nullptr) {
                out.faults.push_back(
                    fmt::format("{:.2f} {} not found", segment.start_s, hold ? segment.pose : "pause"));
                continue;
            }
            if ((found->kind == SegmentKind::hold) == hold)
                ++out.stills_right;
            else
                out.faults.push_back(fmt::format("{:.2f} {} taken for a {} {}", segment.start_s,
                                                 hold ? segment.pose : "pause", hold ? "pause" : "hold",
                                                 found->pose.value_or("")));
            if (hold) score_hold(*found, segment, out);
        } else if (segment.kind == TrueKind::walk) {
            score_walk(found, segment, truth, out);
        } else if (found != nullptr && found->kind == SegmentKind::transition) {
            if (found->turn_deg.value)
                out.turn_errors_deg.push_back(std::abs(*found->turn_deg.value - segment.turn_deg));
            if (found->steps) out.transition_step_errors.push_back(std::abs(*found->steps - segment.steps));
        }
    }
    for (std::size_t i = 0; i < analysis.segments.size(); ++i) {
        if (used[i] || !still(analysis.segments[i])) continue;
        ++out.invented;
        out.faults.push_back(fmt::format("{:.2f}-{:.2f} invented {}", analysis.segments[i].start_s,
                                         analysis.segments[i].end_s, analysis.segments[i].pose.value_or("pause")));
    }
    return out;
}

void Accuracy::add(const Accuracy& other) {
    stills += other.stills;
    stills_right += other.stills_right;
    invented += other.invented;
    holds += other.holds;
    labels += other.labels;
    labels_wrong += other.labels_wrong;
    const auto append = [](auto& to, const auto& from) { to.insert(to.end(), from.begin(), from.end()); };
    append(length_errors_s, other.length_errors_s);
    append(facing_errors_deg, other.facing_errors_deg);
    append(start_errors_s, other.start_errors_s);
    append(end_errors_s, other.end_errors_s);
    append(turn_errors_deg, other.turn_errors_deg);
    append(cadence_errors, other.cadence_errors);
    append(step_errors, other.step_errors);
    append(transition_step_errors, other.transition_step_errors);
    append(faults, other.faults);
}

}  // namespace quarterturn::test
