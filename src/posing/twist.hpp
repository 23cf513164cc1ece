#pragma once
/// How the shoulders turn against the pelvis during a hold.
#include <optional>
#include <vector>

#include "body/surface_motion.hpp"
#include "posing/analysis.hpp"

namespace quarterturn::posing {

/// What one hold shows of it.
struct TwistEvidence {
    body::BandMotion chest, pelvis;  ///< both as long as the hold's pictures
    std::vector<std::optional<double>>
        shoulder_separation;  ///< left minus right shoulder across the picture over the shoulder width seen from
                              ///< the front; as long as the pictures
    std::optional<double> facing_deg;      ///< mean of the hold
    std::optional<double> bits_per_pixel;  ///< of the film; absent: not known
    std::vector<std::optional<double>> near_hip =
        {};  ///< side views: the nearer hip joint across the picture, to the right in an unmirrored film, over
             ///< the shoulder width, from anywhere; as long as the pictures, or empty
};

/// Where each is absent the reason says why; see docs/measurement.md for the limits.
struct TwistFound {
    Twist twist;
    std::vector<std::optional<double>>
        change_deg;  ///< from the reference picture, by picture; empty where not measurable
};

[[nodiscard]] TwistFound twist_of(const TwistEvidence& seen);

/// Twist from the shoulders alone where she stands in profile, the pelvis taken as square to the camera: degrees.
/// Absent elsewhere.
[[nodiscard]] std::optional<double> profile_twist(double separation, double facing_deg);

}  // namespace quarterturn::posing
