#pragma once
/// The poses the program knows by itself. Sides are named by what the camera sees.
#include <optional>
#include <span>
#include <string_view>

#include "rules/topic.hpp"

namespace quarterturn::rules {

enum class PoseFamily { quarter_turn, line_up, mandatory };

struct Pose {
    std::string_view id;     ///< e.g. "quarter_left_side"
    std::string_view title;  ///< e.g. "Left side to the judges"
    PoseFamily family;
    /// Yaw of the pelvis: 0 front, +90 left side to the judges, -90 right side, 180 back. Absent where the pose allows
    /// either side (then it is +90 or -90) or is free (favourite_classic).
    std::optional<double> facing_deg;
    bool either_side;               ///< the athlete chooses the side
    std::span<const Topic> topics;  ///< what coaches look at first in it (common practice, no source)
};

/// All of them: quarter turns, line-up, then the mandatory poses.
[[nodiscard]] std::span<const Pose> poses();

/// nullptr when the catalogue has no such id; a rule set may still use it with a title of its own.
[[nodiscard]] const Pose* find_pose(std::string_view id);

}  // namespace quarterturn::rules
