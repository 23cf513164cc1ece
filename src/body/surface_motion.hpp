#pragma once
/// How far a band of the trunk (the chest, the pelvis) has turned about the vertical since a reference picture, told by
/// how its surface moves against its own outline.
///
/// The trunk's section is an ellipse, half axes 0.42 and 0.32 shoulder widths, whose middle lies 0.03 shoulder widths
/// in front of the line between the shoulders, as backs are flatter than chests (the last two are guesses from the
/// build of adults that suit our drawn figures; no person was measured). When it turns by psi, a point of the surface
/// that is z nearer to the camera than the axis and x beside it moves across the picture by z sin(psi) + x (cos(psi) -
/// 1), while the outline's middle moves only with the whole band. Corners are followed by Lucas and Kanade's method
/// (1981; pyramidal: Bouguet 2000), always from the reference picture: they tell whether there is anything to follow,
/// how the surface moves roughly, and the pelvis' turn. The chest's is fitted to all of its surface at once
/// (surface_alignment.hpp).
#include <optional>
#include <vector>

#include "body/kept_posture.hpp"
#include "body/trunk_section.hpp"

namespace quarterturn::body {

struct BandMotion {
    struct At {
        std::optional<double> turn_deg;  ///< positive in the sense of the facing
        std::optional<double> shift_px;  ///< of the outline's middle, to the right in the picture; not smoothed
        int features = 0;                ///< that were found again
    };
    std::vector<At> pictures;  ///< as KeptPosture's
    int features = 0;          ///< in the reference picture
};

inline constexpr int fewest_features = 8;
inline constexpr double trunk_ahead_share = 0.03;  ///< of the shoulder width: the section's middle before the outline's

[[nodiscard]] BandMotion chest_motion(const KeptPosture& posture);
[[nodiscard]] BandMotion pelvis_motion(const KeptPosture& posture);

}  // namespace quarterturn::body
