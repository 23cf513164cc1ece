#pragma once
#include <string>

#include "posing/analysis.hpp"

namespace quarterturn::cli {

/// An analysis as a person reads it on a terminal: one line per segment.
[[nodiscard]] std::string segment_table(const posing::Analysis& analysis);

}  // namespace quarterturn::cli
