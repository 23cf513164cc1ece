#pragma once
/// What the landmark network would see of a routine: its true points with the errors that the network was found to
/// make on drawn films. For tests without a model or a film.
#include <cstdint>

#include "body/clip_facts.hpp"
#include "body/landmark_series.hpp"
#include "truth.hpp"

namespace quarterturn::test {

struct SeeingErrors {
    double jitter = 0.0015;        ///< body heights, one standard deviation; neighbouring pictures err together
    double hidden_jitter = 0.012;  ///< of guessed points, slow
    double swap_chance = 0.15;     ///< in profile, per third of a second: left and right of the trunk change places
    double hips_follow = 0.5;      ///< the hips turn with the shoulders by this share of the twist
    double feet_mixed = 0;  ///< chance, per picture, that a foot that moves beside the other is put near that one
    double foot_lost = 0;   ///< chance, per picture, that a foot that moves is not seen and guessed up the leg
    double rate_hz = 15;
    std::uint32_t seed = 7;
};

[[nodiscard]] body::LandmarkSeries seen_landmarks(const sample::Script& script, const sample::Truth& truth,
                                                  const SeeingErrors& errors = {});

[[nodiscard]] body::ClipFacts facts_of(const sample::Script& script, const sample::Truth& truth);

}  // namespace quarterturn::test
