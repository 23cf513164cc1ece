#pragma once
/// Noise of single pictures taken off a curve.
#include <optional>
#include <span>
#include <vector>

namespace quarterturn::body {

/// Mean of each value and its neighbours, where all three are there: at 15 pictures a second that leaves twist and sway
/// as they are. What is quicker, as the shake of a phone, must be off before.
[[nodiscard]] inline std::vector<std::optional<double>> steadied(std::span<const std::optional<double>> values) {
    std::vector<std::optional<double>> out(values.begin(), values.end());
    for (std::size_t i = 1; i + 1 < values.size(); ++i)
        if (values[i - 1] && values[i] && values[i + 1]) out[i] = (*values[i - 1] + *values[i] + *values[i + 1]) / 3;
    return out;
}

}  // namespace quarterturn::body
