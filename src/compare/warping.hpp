#pragma once
/// Dynamic time warping: Sakoe and Chiba, IEEE ASSP 26:43 (1978).
#include <cstddef>
#include <functional>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

namespace quarterturn::compare {

enum class StepWeights {
    plain,     ///< every step counts its distance once
    symmetric  ///< a diagonal step counts it twice (the paper's symmetric form, P = 0)
};

struct WarpSettings {
    StepWeights weights = StepWeights::symmetric;
    /// How far the path may leave the straight line from corner to corner, in samples of the second sequence.
    double band = std::numeric_limits<double>::infinity();
};

struct Warping {
    double cost = 0;                                        ///< summed, weighted distances
    std::vector<std::pair<std::size_t, std::size_t>> path;  ///< from (0, 0) to (n - 1, m - 1); both never decrease
};

/// The cheapest way through both sequences, ends tied together. Ties prefer the diagonal.
/// @return nullopt when a sequence is empty; a band too narrow for any path is widened until there is one
[[nodiscard]] std::optional<Warping> warp(std::size_t n, std::size_t m,
                                          const std::function<double(std::size_t, std::size_t)>& distance,
                                          const WarpSettings& settings = {});

}  // namespace quarterturn::compare
