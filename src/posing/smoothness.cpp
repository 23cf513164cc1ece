#include "posing/smoothness.hpp"

#include <cmath>
#include <numbers>
#include <vector>

namespace quarterturn::posing {
namespace {

/// Magnitude of the spectrum at one frequency; speed profiles are short, so no fast transform is needed.
double magnitude(std::span<const double> speed, double rate_hz, double hz) {
    double real = 0, imaginary = 0;
    for (std::size_t i = 0; i < speed.size(); ++i) {
        const double phase = 2 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz;
        real += speed[i] * std::cos(phase);
        imaginary -= speed[i] * std::sin(phase);
    }
    return std::hypot(real, imaginary);
}

}  // namespace

std::optional<double> spectral_arc_length(std::span<const double> speed, double rate_hz,
                                          const SmoothnessSettings& settings) {
    if (speed.size() < 6 || rate_hz <= 0) return std::nullopt;
    const double whole = magnitude(speed, rate_hz, 0);
    if (whole <= 0) return std::nullopt;
    const double length = std::exp2(std::ceil(std::log2(static_cast<double>(speed.size()))) + settings.pad_level);
    const double spacing = rate_hz / length;
    const double highest = std::min(settings.highest_hz, rate_hz / 2);
    std::vector<double> spectrum;
    std::size_t last = 0;
    for (double hz = 0; hz <= highest; hz += spacing) {
        spectrum.push_back(magnitude(speed, rate_hz, hz) / whole);
        if (spectrum.back() >= settings.amplitude) last = spectrum.size() - 1;
    }
    if (last == 0) return std::nullopt;
    double arc = 0;
    for (std::size_t i = 0; i < last; ++i) {
        const double along = 1 / static_cast<double>(last);
        arc += std::hypot(along, spectrum[i + 1] - spectrum[i]);
    }
    return -arc;
}

}  // namespace quarterturn::posing
