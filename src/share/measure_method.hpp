#pragma once
/// The two ways to measure, behind measure_film.
#include <filesystem>
#include <optional>

#include "base/result.hpp"
#include "posing/analyse.hpp"
#include "posing/analysis.hpp"
#include "share/measure.hpp"

namespace quarterturn::share {

/// Goes up whenever the same film would be measured differently; older cache entries are then computed again.
inline constexpr int measure_version = 2;

/// The method asked for, else landmarks when the model is there, else motion.
/// @error missing_part: landmarks asked for, and there is no model; says how to get it
[[nodiscard]] Result<posing::Method> method_for(const MeasureSettings& settings);

/// --model-dir, as body::load_models takes it.
[[nodiscard]] std::optional<std::filesystem::path> chosen_model_folder(const MeasureSettings& settings);

[[nodiscard]] posing::AnalyseSettings analyse_settings(const FilmKnowledge& knowledge);

/// By landmarks; twist and sway from the pictures of the trunk seen on the way.
[[nodiscard]] Result<posing::Analysis> measure_landmarks(const std::filesystem::path& film,
                                                         const FilmKnowledge& knowledge,
                                                         const MeasureSettings& settings);

}  // namespace quarterturn::share
