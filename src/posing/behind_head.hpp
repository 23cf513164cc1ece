#pragma once
/// Holds with the hands behind the head, where little of the posture is seen.
#include <vector>

#include "body/course.hpp"
#include "posing/still_stretches.hpp"

namespace quarterturn::posing {

/// A wrist is within 0.16 body heights of the middle between the ears.
[[nodiscard]] bool hand_at_head(const body::CourseFrame& frame);

/// In most pictures of the stretch. False without pictures.
[[nodiscard]] bool hand_at_head(const body::BodyCourse& course, const Stretch& stretch);

/// Behind the head the hands may go from a pose to the hair without changing the posture that is seen: quiet before a
/// movement and busy after it, or the other way round. And two small steps, each too short for another posture, change
/// it together, or shift the weight. Such a still stretch is two, or more. Only where a hand is at the head before and
/// after.
[[nodiscard]] std::vector<StillStretch> parted_behind_head(const std::vector<StillStretch>& stills,
                                                           const body::BodyCourse& course, const HoldSettings& holds);

}  // namespace quarterturn::posing
