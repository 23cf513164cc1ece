#pragma once
/// Level cut through the trunk as the camera sees it.
#include <optional>

namespace quarterturn::body {

/// An ellipse, half axes 0.42 and 0.32 shoulder widths; pixels.
struct TrunkSection {
    double half_width = 0;  ///< along the shoulder line
    double half_depth = 0;
    double yaw_rad = 0;  ///< 0: faces the camera
    [[nodiscard]] static TrunkSection of(double shoulder_width_px, double yaw_deg);
    /// Half its width in the picture.
    [[nodiscard]] double reach() const;
    /// How much nearer to the camera than the axis the surface is, x beside the axis; absent from the edge on.
    [[nodiscard]] std::optional<double> nearer(double x) const;
};

}  // namespace quarterturn::body
