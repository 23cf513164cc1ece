#pragma once
/// The fit behind surface_motion: from how points of a rounded surface moved to how far it turned.
#include <optional>
#include <vector>

namespace quarterturn::body {

/// A point of the surface in the reference picture and its movement since; pixels, y downwards.
struct SurfaceShift {
    double x = 0, y = 0;    ///< from the band's middle
    double nearer = 0;      ///< to the camera than the axis
    double dx = 0, dy = 0;  ///< how it moved
};

/// Radians about the vertical; positive moves the near surface to the right. Least squares with Huber's weights of
///
///     dx = tx - phi y + s x + nearer sin(psi) + x (cos(psi) - 1)
///     dy = ty + phi x + s y
///
/// with the outline's movement as a tie: tx - phi edge_y = edge_shift. Without it shift and turn look alike.
/// Absent when the points do not determine it.
[[nodiscard]] std::optional<double> fit_turn(const std::vector<SurfaceShift>& moved, double edge_shift, double edge_y);

}  // namespace quarterturn::body
