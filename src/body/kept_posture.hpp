#pragma once
/// One posture kept over a while, as the measures of the trunk take it.
#include <span>

#include "body/torso_record.hpp"

namespace quarterturn::body {

/// Where the forearms are: pixels as in TorsoPicture.
struct Forearm {
    Point elbow, wrist, finger;
};
struct Forearms {
    Forearm left, right;
};

struct KeptPosture {
    std::span<const TorsoPicture> pictures;  ///< by time
    std::size_t reference = 0;               ///< which of them
    double shoulder_width_px = 0;            ///< seen from the front
    double yaw_deg = 0;                      ///< where the pelvis faces: 90 is the left side to the camera
    bool mirrored = false;                   ///< the film shows left and right swapped
    std::span<const Forearms> forearms;      ///< as long as `pictures`; empty: not known
};

/// Sine of the yaw from which a view is a side view here: an arm hangs before the hips.
inline constexpr double side_view = 0.5;

/// An outline or a surface nearer to the bones of a forearm or a hand than this is the arm's, shoulder widths.
inline constexpr double arm_half_width = 0.17;
[[nodiscard]] bool near_arm(const Forearms& arms, Point place, double reach_px);

}  // namespace quarterturn::body
