#pragma once
/// What the hands do in a hold.
#include "body/course.hpp"
#include "posing/analysis.hpp"
#include "posing/foot_steps.hpp"

namespace quarterturn::posing {

/// Lengths in cm when `height_cm` is known, else % of body height. A hand is the middle of wrist, thumb and fingers.
///
///     height_difference  how much higher the left hand is (negative: the right one); median over the settled hold
///     from_hip           hands above (+) or below (-) the line through the hips; median
///     settling_s         from the last landing of a foot to the last time a hand is faster than 0.08 body heights/s
///     fidget_rms         wandering of the more restless hand about its place, slow drift (1 s) taken away
[[nodiscard]] Hands hands_in(const body::BodyCourse& course, std::span<const FootSwing> swings, const Stretch& hold,
                             std::optional<double> height_cm);

}  // namespace quarterturn::posing
