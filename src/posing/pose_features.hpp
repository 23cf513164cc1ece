#pragma once
/// What of a posture tells the poses apart: angles and distances in body heights, medians over the settled part of a
/// hold. The same numbers for an athlete and her mirror image.
#include <array>
#include <cstddef>
#include <optional>

#include "body/course.hpp"
#include "body/facing.hpp"
#include "posing/still_stretches.hpp"

namespace quarterturn::posing {

/// Up is positive and measured from the shoulder; out is away from the middle of the body, in the picture; ahead is the
/// way the body faces. "near" is the arm or leg on the side shown to the judges.
enum class Feature {
    straighter_elbow,  ///< degrees, 180 is straight
    more_bent_elbow,
    higher_elbow,  ///< of the elbow over its shoulder
    lower_elbow,
    higher_wrist,
    lower_wrist,
    wider_elbow,  ///< out from its own shoulder
    narrower_elbow,
    wider_wrist,
    narrower_wrist,
    wrists_apart,
    wrists_differ,     ///< one wrist higher than the other
    near_elbow,        ///< degrees
    near_elbow_ahead,  ///< of its shoulder
    near_wrist_ahead,
    near_wrist_up,
    more_bent_knee,   ///< degrees
    higher_heel,      ///< of the heel over its own foot tip, against the other foot
    foot_ahead,       ///< one ankle lower in the picture than the other: nearer to the phone
    heels_apart,      ///< across the picture
    head_turn,        ///< nose past the ears to the right in the picture, positive towards the front of the body
    hip_shift,        ///< pelvis to one side of the feet, half against the upright, half against the line to the ears
    shoulders_slope,  ///< degrees, without sign
    head_down,        ///< nose below the ears
    hands_from_head,  ///< the further wrist from the middle between the ears
    hands_busy        ///< hands_speed: a hand in the hair does not rest
};
inline constexpr std::size_t feature_count = 26;

struct SeenFeature {
    double value = 0;
    double seen = 0;  ///< 0..1: how well the points behind it were seen
};

struct PoseFeatures {
    std::optional<double> facing_deg;  ///< (-180, 180]
    std::array<std::optional<SeenFeature>, feature_count> values;
    std::size_t pictures = 0;  ///< looked at
    [[nodiscard]] const std::optional<SeenFeature>& operator[](Feature f) const {
        return values[static_cast<std::size_t>(f)];
    }
};

/// Over the hold without its first and last fifth (at most 0.5 s each).
[[nodiscard]] PoseFeatures features_in(const body::BodyCourse& course, const body::FacingSeries& facing,
                                       const Stretch& hold);

/// Angle at `at` between the directions to `a` and `b`, degrees in [0, 180].
[[nodiscard]] double angle_at(const body::CoursePoint& at, const body::CoursePoint& a, const body::CoursePoint& b);

/// Mean direction of the facings in the stretch, (-180, 180].
[[nodiscard]] std::optional<double> mean_facing(const body::BodyCourse& course, const body::FacingSeries& facing,
                                                const Stretch& stretch);

}  // namespace quarterturn::posing
