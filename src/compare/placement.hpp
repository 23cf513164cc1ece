#pragma once
/// Where the earlier picture lies over the later one at any moment of the film.
#include <optional>

#include "compare/comparison.hpp"
#include "compare/laid_over.hpp"

namespace quarterturn::compare {

/// Within a paired hold its alignment; between two of them a straight transition, or the nearer one where only one of
/// them is mirrored; before the first and after the last theirs.
/// @return from pixels of the earlier picture to pixels of the later one, both as shown; nullopt: nothing is aligned
[[nodiscard]] std::optional<Affine> placement_at(const Comparison& comparison, std::size_t now_take,
                                                 std::size_t before_take, double now_s);

}  // namespace quarterturn::compare
