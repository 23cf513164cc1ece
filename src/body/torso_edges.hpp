#pragma once
/// Where the outline of the body lies to the left and right of its middle line, row by row, from the network's mask.
#include <optional>
#include <span>
#include <vector>

#include "body/region.hpp"

namespace quarterturn::body {

/// Pixels of the upright picture. Rows are level, evenly spaced.
struct TorsoEdges {
    struct Row {
        std::optional<float> left, right;  ///< as the picture shows them; absent: none found in reach
    };
    double first_y = 0;
    double spacing = 1;  ///< pixels between rows
    std::vector<Row> rows;

    /// Interpolated between rows; absent where either neighbour is.
    [[nodiscard]] std::optional<double> left_at(double y) const;
    [[nodiscard]] std::optional<double> right_at(double y) const;
    /// Half way between both edges.
    [[nodiscard]] std::optional<double> middle_at(double y) const;
};

/// From the middle line outwards to where the mask first says "not the person" (logit 0, interpolated). An arm that
/// lies against the trunk belongs to the outline.
/// @param mask   mask_side x mask_side logits over `region`
/// @param neck, crotch  the middle line's ends: between the shoulders and between the hips
/// @param reach  pixels to look left and right of the middle line
[[nodiscard]] TorsoEdges torso_edges(std::span<const float> mask, const Region& region, Point neck, Point crotch,
                                     double reach);

}  // namespace quarterturn::body
