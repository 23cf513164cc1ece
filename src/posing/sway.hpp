#pragma once
/// How the whole body moves sideways over the feet during a hold.
#include <optional>
#include <span>

#include "posing/analysis.hpp"

namespace quarterturn::posing {

/// @param t_s       seconds, increasing
/// @param sideways  the pelvis across the picture, cm or % of body height, from any origin; as long as t_s
/// @return RMS about the mean, peak to peak, and the frequency that explains most of the movement (least-squares
///         spectrum: Lomb 1976, Scargle 1982), where one explains half of it and at least two periods were seen;
///         absent with a reason where fewer than `fewest` values are there
/// Path speed: along the curve's means over five values, so that noise is not path. Drift: see drift_of.
[[nodiscard]] Sway sway_of(std::span<const double> t_s, std::span<const std::optional<double>> sideways,
                           std::size_t fewest = 10);

/// Rise from the first to the last value of the line that fits best (least squares), beside one sine where that
/// explains half of what a line leaves over; absent with a reason as above.
[[nodiscard]] Measured drift_of(std::span<const double> t_s, std::span<const std::optional<double>> values,
                                std::size_t fewest = 10);

}  // namespace quarterturn::posing
