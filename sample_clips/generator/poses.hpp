#pragma once
/// The poses of the call order as postures, plus the two ways of standing that are no pose.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "body.hpp"
#include "posture.hpp"

namespace quarterturn::sample {

struct PoseChoice {
    std::string id;               ///< pose id, or "relaxed_stand" or "hands_in_hair"
    std::string side = "left";    ///< side to the judges in the side poses; leg that is ahead in abdominals_and_thighs
    bool fists = false;           ///< hands closed where a pose allows both
    std::string style = "plain";  ///< of a quarter turn or line-up: "plain", "hip" (one hand on the hip), "open"
};

/// Every id that pose_posture knows.
[[nodiscard]] const std::vector<std::string>& pose_ids();
[[nodiscard]] bool is_pose(std::string_view id);
/// Whether the pose may show either side to the judges.
[[nodiscard]] bool has_side(std::string_view id);

/// Heading of the stance: 0 to the judges, 90 left side to the judges.
[[nodiscard]] double pose_heading(const PoseChoice& choice);
[[nodiscard]] Posture pose_posture(const PoseChoice& choice, const Bones& bones);

/// Arms and feet of an easy walk; the arms swing about this.
[[nodiscard]] Posture walking_posture(const Bones& bones);

}  // namespace quarterturn::sample
