#pragma once
/// Twist and sway of every hold, from the pictures of the trunk that were kept while the film was read.
#include <optional>
#include <span>

#include "body/torso_record.hpp"
#include "posing/analyse_landmarks.hpp"

namespace quarterturn::posing {

/// Fills twist, sway and silhouette widths of the holds, what moves in transitions without a turn, and both curves of
/// the signals; call refresh_checks afterwards.
/// @param pictures       as take_torso_pictures gives them
/// @param bits_per_pixel of the film, as share::bits_per_pixel() counts them; absent: not known
void measure_trunk(LandmarkAnalysis& analysis, const LandmarkInput& input, std::span<const body::TorsoPicture> pictures,
                   std::optional<double> bits_per_pixel = {});

}  // namespace quarterturn::posing
