#pragma once
/// What is measured in transitions and walks.
#include "posing/analysis.hpp"
#include "posing/landmark_segments.hpp"

namespace quarterturn::posing {

/// Turn (from the settled end of what was before to the settled start of what comes after, to the athlete's right
/// positive), steps, steps beyond two for each quarter turn, and smoothness of the fastest joint's speed.
void measure_transition(Segment& segment, const LandmarkEvidence& seen);

/// Steps (landings), cadence (60 over the usual time from step to step), evenness of those times (spread over mean,
/// %), path over the floor (m when `height_cm` is known, else body heights). Steps are absent when the feet are out of
/// the picture for a fifth of the walk or more.
void measure_walk(Segment& segment, const LandmarkEvidence& seen, std::optional<double> height_cm);

/// Spread of the durations of the quarter turns (60 to 120 degrees) over their mean, %.
[[nodiscard]] Measured turn_evenness(const std::vector<Segment>& segments);

/// Quarter turns between quarter-turn poses go to the athlete's right. Absent with fewer than two of them or when they
/// disagree.
[[nodiscard]] std::optional<bool> looks_mirrored(const std::vector<Segment>& segments);

/// From the first stage walk to the last, the holds and pauses between them being its stops.
[[nodiscard]] std::optional<StageWalk> stage_walk_of(const std::vector<Segment>& segments,
                                                     const std::optional<rules::RuleSet>& rules);

}  // namespace quarterturn::posing
