#include "canvas.hpp"

#include <algorithm>
#include <cmath>
#include <random>

namespace quarterturn::sample {
namespace {

constexpr std::size_t grain_count = 1U << 16U;

/// Normal deviates by the sum of twelve: near enough for grain, and the same everywhere.
const std::vector<float>& grain() {
    static const std::vector<float> table = [] {
        std::mt19937 random(20260530);
        std::vector<float> out(grain_count);
        for (float& value : out) {
            double sum = -6;
            for (int k = 0; k < 12; ++k) sum += static_cast<double>(random()) / 4294967296.0;
            value = static_cast<float>(sum);
        }
        return out;
    }();
    return table;
}

const std::vector<float>& screen_curve() {
    static const std::vector<float> table = [] {
        std::vector<float> out(4097);
        for (std::size_t i = 0; i < out.size(); ++i) {
            const double v = static_cast<double>(i) / 4096;
            // a soft shoulder keeps highlights from burning out
            const double shoulder = v < 0.7 ? v : 0.7 + 0.3 * std::tanh((v - 0.7) / 0.3);
            out[i] = static_cast<float>(255 * std::pow(shoulder, 1 / 2.2));
        }
        return out;
    }();
    return table;
}

/// A lens is never perfectly sharp: 1 6 1 both ways; it also softens stairs at inner edges.
std::vector<float> softened(const Canvas& canvas) {
    const auto row = static_cast<std::size_t>(canvas.width) * 3;
    const auto rows = static_cast<std::size_t>(canvas.height);
    std::vector<float> across(canvas.light.size()), out(canvas.light.size());
    for (std::size_t y = 0; y < rows; ++y) {
        const float* from = &canvas.light[y * row];
        float* to = &across[y * row];
        for (std::size_t i = 0; i < row; ++i) {
            const std::size_t left = i < 3 ? i : i - 3, right = i + 3 < row ? i + 3 : i;
            to[i] = 0.125F * (from[left] + from[right]) + 0.75F * from[i];
        }
    }
    for (std::size_t y = 0; y < rows; ++y) {
        const float* up = &across[(y == 0 ? y : y - 1) * row];
        const float* here = &across[y * row];
        const float* down = &across[(y + 1 < rows ? y + 1 : y) * row];
        for (std::size_t i = 0; i < row; ++i) out[y * row + i] = 0.125F * (up[i] + down[i]) + 0.75F * here[i];
    }
    return out;
}

}  // namespace

std::vector<std::uint8_t> develop(const Canvas& canvas, const Development& how) {
    const std::vector<float> light = softened(canvas);
    const std::vector<float>& curve = screen_curve();
    const std::vector<float>& noise = grain();
    const auto row = static_cast<std::size_t>(canvas.width) * 3;
    std::vector<std::uint8_t> out(light.size());
    const auto gain = static_cast<float>(how.gain * 4096), rms = static_cast<float>(how.noise);
    std::mt19937 random(how.seed);
    for (std::size_t y = 0; y < static_cast<std::size_t>(canvas.height); ++y) {
        const std::size_t offset = random() % grain_count;
        for (std::size_t i = 0; i < row; ++i) {
            const float level = std::clamp(light[y * row + i] * gain, 0.0F, 4096.0F);
            const float value = curve[static_cast<std::size_t>(level)] + rms * noise[(offset + i) % grain_count];
            const std::size_t column = how.mirrored ? row - 3 - (i - i % 3) + i % 3 : i;
            out[y * row + column] = static_cast<std::uint8_t>(std::clamp(value + 0.5F, 0.0F, 255.0F));
        }
    }
    return out;
}

}  // namespace quarterturn::sample
