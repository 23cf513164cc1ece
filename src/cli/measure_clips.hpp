#pragma once
#include <string>
#include <vector>

#include "cli/library_access.hpp"
#include "share/measure.hpp"

namespace quarterturn::cli {

struct MeasuredClips {
    std::vector<std::string> failures;  ///< one sentence for each clip that could not be measured
};

/// Measures clips of the library side by side, those in the cache at once; shows progress on a terminal.
/// @param jobs  clips at the same time; 0: one per core
/// @error cancelled; missing_part
[[nodiscard]] Result<MeasuredClips> measure_clips(const OpenLibrary& library,
                                                  const std::vector<const journal::Clip*>& clips,
                                                  const share::MeasureSettings& settings, int jobs);

}  // namespace quarterturn::cli
