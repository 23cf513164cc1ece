#pragma once
#include "base/result.hpp"
#include "posing/analysis.hpp"
#include "share/measure.hpp"

namespace quarterturn::share {

/// Goes up whenever the same film would be measured differently; older cache entries are then computed again.
inline constexpr int measure_version = 1;

/// The method asked for, else landmarks when the model is there, else motion.
/// @error missing_part: landmarks asked for, and there is no model; says how to get it
[[nodiscard]] Result<posing::Method> method_for(const MeasureSettings& settings);

}  // namespace quarterturn::share
