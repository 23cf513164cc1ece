#pragma once
/// Adding up a panel's places. Each judge ranks the entries 1, 2, 3 ...; the lowest total wins.
#include <vector>

#include "base/result.hpp"

namespace quarterturn::rules {

/// The sum after dropping `dropped` places at each end.
/// @error bad_input: a place below 1, a negative `dropped`, or nothing left to add
[[nodiscard]] Result<int> place_total(std::vector<int> places, int dropped);

}  // namespace quarterturn::rules
