#pragma once
/// The checklist items a program can answer in a hold (rules::measured_items()), each with its value, the rule set's
/// limit, and how sure.
#include "posing/landmark_segments.hpp"
#include "rules/rule_set.hpp"

namespace quarterturn::posing {

/// What the checks of one hold are made from.
struct CheckedHold {
    const Segment& segment;  ///< with its measures filled in
    const LandmarkEvidence& seen;
    std::optional<double> height_cm;
    std::optional<int> steps_into_it;  ///< of the transition before it
    std::string steps_reason;          ///< why there are none
};

///     shoulders_level    slope of the line between the shoulders, degrees; front and back views
///     feet_placed        furthest an ankle or heel strays from its place (95th percentile), cm
///     elbows_matched     difference of the elbow angles as the picture shows them, degrees; front and back views
///     upper_arms_level   the upper arm further from level, degrees; front and back views
///     heel_distance      gap between the heels, cm: between their middles less a heel's width of 3.6 % of the height
///                        (from memory); front and back views, across the picture only: a foot ahead does not show
///     head_direction     yaw of the head against the pelvis, degrees; not from behind
///     hands_matched      height difference of the hands, cm
///     torso_twist_side   absolute twist, degrees; side views
///     stillness          mean speed of the fastest joint, body heights per second
///     hold_length        seconds
///     transition_steps   foot steps on the way into the pose
[[nodiscard]] std::vector<Check> checks_of(const CheckedHold& hold, const rules::PoseExpectation& pose);

}  // namespace quarterturn::posing
