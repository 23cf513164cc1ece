#pragma once
/// How smooth a movement is: spectral arc length of its speed profile.
#include <optional>
#include <span>

namespace quarterturn::posing {

struct SmoothnessSettings {
    double pad_level = 4;     ///< the spectrum is taken over 2^(ceil(log2 n) + pad_level) samples
    double highest_hz = 10;   ///< frequencies above are noise
    double amplitude = 0.05;  ///< the spectrum counts up to the last frequency that is this share of the first
};

/// SPARC = - integral from 0 to wc of sqrt((1/wc)^2 + (dV^(w)/dw)^2) dw, where V^ is the magnitude spectrum of the
/// speed over its value at 0 and wc the last frequency up to `highest_hz` at which V^ reaches `amplitude`.
/// Source: Balasubramanian, Melendez-Calderon, Roby-Brami, Burdet 2015, J NeuroEng Rehabil 12:112 (formula from
/// memory). About -1.4 for one smooth movement from rest to rest; stops and starts make it more negative.
/// @param speed  equally spaced, >= 0
/// @return nullopt with fewer than 6 samples or without movement
[[nodiscard]] std::optional<double> spectral_arc_length(std::span<const double> speed, double rate_hz,
                                                        const SmoothnessSettings& settings = {});

}  // namespace quarterturn::posing
