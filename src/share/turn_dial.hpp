#pragma once
/// A small picture of where a pose faces, seen from above with the judges at the bottom.
#include <optional>

#include "share/html.hpp"

namespace quarterturn::share {

/// @param facing_deg  0 front to the judges, +90 left side to the judges; absent: the side is free
[[nodiscard]] Html turn_dial(std::optional<double> facing_deg);

}  // namespace quarterturn::share
