#pragma once
#include <string>
#include <vector>

#include "journal/store.hpp"
#include "share/measure.hpp"

namespace quarterturn::cli {

struct MeasuredClips {
    std::vector<std::string> failures;  ///< one sentence for each clip that could not be measured
};

/// Measures clips of a library side by side, those in the cache at once, and fills in the program's marks of their
/// sessions; shows progress on a terminal.
/// @param jobs  clips at the same time; 0: one per core
/// @error cancelled; missing_part
[[nodiscard]] Result<MeasuredClips> measure_clips(journal::Store& store, const journal::Library& library,
                                                  const std::vector<const journal::Clip*>& clips,
                                                  const share::MeasureSettings& settings, int jobs);

/// Says once on standard error when films are measured from motion alone because the landmark model is missing.
void say_if_model_is_missing(const share::MeasureSettings& settings);

}  // namespace quarterturn::cli
