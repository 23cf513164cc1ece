#pragma once
/// Pictures of a trunk that turns exactly as told: an upright cylinder of elliptic section with a random texture.
#include "body/torso_record.hpp"

namespace quarterturn::body {

struct TrunkPose {
    double chest_deg = 0, pelvis_deg = 0;  ///< yaw against the reference
    double aside_px = 0;
    double yaw_deg = 0;   ///< where the whole body faces
    bool smooth = false;  ///< no texture: shading that stays where the light puts it, a level strap, and one upright
                          ///< furrow in the middle of front and back, which turns with the body
};

inline constexpr double trunk_shoulder_width_px = 120;

/// Chest (upper 70 %) and pelvis turn on their own.
[[nodiscard]] TorsoPicture trunk_picture(const TrunkPose& pose);

}  // namespace quarterturn::body
