#pragma once
/// A picture in linear light on its way to bytes: lens softness, exposure, screen curve, sensor noise.
#include <cstdint>
#include <vector>

namespace quarterturn::sample {

struct Canvas {
    int width = 0, height = 0;
    std::vector<float> light;  ///< R, G, B per pixel, linear
};

struct Development {
    double gain = 1;
    double noise = 0;        ///< RMS of 255
    std::uint32_t seed = 1;  ///< of the noise
    bool mirrored = false;
};

[[nodiscard]] std::vector<std::uint8_t> develop(const Canvas& canvas, const Development& how);

}  // namespace quarterturn::sample
