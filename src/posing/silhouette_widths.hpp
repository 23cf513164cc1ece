#pragma once
/// Widths of the silhouette in a hold: how broad the outline is across the picture at the shoulders, the waist and the
/// hips, % of the body height (heels included).
///
/// A width belongs to its pose and its view: compare one only with the same pose. `shoulders` has the hanging arms in
/// it and is absent where they do not hang; `waist` and `hips` are the trunk's alone. Each is the median over at most
/// nine pictures around the steadiest one. `error` is one standard deviation of any of the three against the exact
/// outline, from the spread over those pictures and from the method (mask, body scale) as found on drawn films; what
/// both films of a comparison share (same pose, same build) largely cancels. Numbers about a pose, never about the
/// worth of a body.
#include <span>
#include <vector>

#include "body/outline_widths.hpp"
#include "posing/analysis.hpp"

namespace quarterturn::posing {

/// How far from straight front or back widths are still given, degrees: cos 15 is 0.97.
inline constexpr double widths_within_deg = 15;
inline constexpr std::size_t width_pictures = 9;

/// @param seen       of the pictures used; may be empty
/// @param height_px  how tall she would stand in them
[[nodiscard]] Widths silhouette_widths(std::span<const body::OutlineWidths> seen, double height_px,
                                       const Measured& facing_deg);

}  // namespace quarterturn::posing
