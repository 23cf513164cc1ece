#pragma once
/// How the hips move across the picture, from the edges of the outline at and below them.
///
/// In front and back views the middle between the left and the right edge, rows within 0.15 shoulder widths of the hip
/// joints. In side views an arm that swings with the shoulders lies before or behind the hips and belongs to the
/// outline; there each edge counts by itself, from the hip joints to nearly half of the trunk's length below, without
/// those an arm comes near. What lies below the hips moves less in a body that sways over its feet, in proportion to
/// its height over them (hip joints at .53, trunk .288 of the height: Drillis and Contini 1966, from memory).
#include <optional>
#include <vector>

#include "body/kept_posture.hpp"

namespace quarterturn::body {

/// Against the reference picture (where that shows too few edges: from anywhere), pixels to the right, not smoothed;
/// absent where too few edges are found.
[[nodiscard]] std::vector<std::optional<double>> hip_shifts(const KeptPosture& posture);

}  // namespace quarterturn::body
