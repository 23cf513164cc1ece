#pragma once
/// The main joints over time, and what the finder of holds needs from them: the fastest joint's speed and how far two
/// postures are apart.
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "posing/still_stretches.hpp"

namespace quarterturn::posing {

enum class Joint {
    left_shoulder,
    right_shoulder,
    left_elbow,
    right_elbow,
    left_wrist,
    right_wrist,
    left_hip,
    right_hip,
    left_knee,
    right_knee,
    left_ankle,
    right_ankle,
    head  ///< no main joint: stands for the trunk where that cannot be found
};
inline constexpr std::size_t joint_count = 13;
inline constexpr std::size_t main_joint_count = 12;  ///< left and right in turn

/// In body heights from any fixed origin; z is 0 where only the picture plane is known.
struct JointPosition {
    double x = 0, y = 0, z = 0;
};
/// By Joint; absent where it was not seen.
using Posture = std::array<std::optional<JointPosition>, joint_count>;

struct JointSeries {
    std::vector<double> t_s;                        ///< strictly increasing, any spacing
    std::vector<Posture> postures;                  ///< as long as t_s
    std::vector<std::optional<double>> facing_deg;  ///< as long as t_s, or empty when facing is not known
};

/// Speed of the fastest joint. Each joint's velocity at t is the slope of a straight line fitted to its positions
/// around t with triangular weights that reach zero `smoothing_s` away (so about half the weight lies within
/// +-0.3 smoothing_s): no phase shift, any spacing. Absent where fewer than half of the joints have two positions to
/// fit.
[[nodiscard]] SpeedSeries fastest_joint_speed(const JointSeries& joints, double smoothing_s = 0.2);

/// The largest distance any joint moved between the two postures, after taking away the movement common to them all
/// (the mean). Absent with fewer than half of the joints in both.
[[nodiscard]] std::optional<double> posture_distance(const Posture& before, const Posture& after);

/// Median of each joint over the stretch, or the sample nearest to its middle when none lies within.
[[nodiscard]] Posture posture_in(const JointSeries& joints, const Stretch& stretch);

/// Holds by the joints: find_still_stretches over the two above; a facing changed by more than
/// `settings.facing_change_deg` is another posture too.
[[nodiscard]] std::vector<StillStretch> find_still_stretches(const JointSeries& joints,
                                                             const HoldSettings& settings = {},
                                                             double smoothing_s = 0.2);

}  // namespace quarterturn::posing
