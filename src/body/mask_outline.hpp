#pragma once
/// The outline of a body in one picture, as the landmark network's mask says it: a fifth of a second each.
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "body/tracker.hpp"

namespace quarterturn::body {

/// Short pieces of line, pixels of the picture; the end of each is the beginning of another.
using OutlinePieces = std::vector<std::pair<Point, Point>>;

/// Where a mask changes from "not the person" to "the person" (logit 0): marching squares with the crossing
/// interpolated between the middles of the mask's pixels. Islands of fewer than 40 mask pixels are left out: a hand
/// covers more.
/// @param mask  mask_side x mask_side logits over `region`, row by row; none of another size has an outline
[[nodiscard]] OutlinePieces mask_outline(std::span<const float> mask, const Region& region);

/// The outline of the person whose middle is nearest to `hips`, of the surest one without.
/// @return empty: nobody was found
/// @error as the networks
[[nodiscard]] Result<OutlinePieces> outline_in(BodyReader& reader, const PictureView& picture,
                                               std::optional<Point> hips = std::nullopt);

}  // namespace quarterturn::body
