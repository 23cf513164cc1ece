#pragma once
/// What one picture says about where the pelvis faces, before its neighbours are asked.
#include <optional>
#include <vector>

#include "body/course.hpp"

namespace quarterturn::body {

/// Yaw in steps of 5 degrees: step k is 5 k degrees; 0 front, 90 left side to the judges.
inline constexpr int facing_steps = 72;
inline constexpr double facing_step_deg = 360.0 / facing_steps;

/// Widths of this body across the picture when it faces the phone or away from it, in body heights: the 95th percentile
/// over the clip, apart for both where both are shown (the network draws backs a little narrower). And how the foot
/// tips lie below the heels: `tips_level` from the side, by `tips_nearer` more when they point to the phone; that
/// depends on the phone's height and on heeled shoes, so it is learned from the clip too.
struct BodyWidths {
    double shoulders = 0.2, hips = 0.11;
    double shoulders_behind = 0.2, hips_behind = 0.11;
    double tips_level = 0.012, tips_nearer = 0.03;
};
[[nodiscard]] BodyWidths widths_of(const BodyCourse& course);

/// Log likelihood of each step, up to a constant. The signs, with s = width seen with left at the right edge:
///
///     sign                          at yaw a it should be                 says most about
///     hips, shoulders apart         width * cos a                         sides, and front against back
///     world points of the hips and shoulders: direction of the line       front against back, which side
///     foot tips past the heels      -foot * sin a                         which side
///     foot tips below the heels     more, the more they point to a phone    front against back
///                                   that looks down on the floor
///     ears apart                    width * cos a                         front against back (the head may turn)
///     nose past the ears            -face * sin a                         which side (the head may turn)
///
/// Every sign has tails heavier than a normal law, so that one that is badly wrong is outvoted.
[[nodiscard]] std::vector<double> facing_evidence(const CourseFrame& frame, const BodyWidths& widths);

}  // namespace quarterturn::body
