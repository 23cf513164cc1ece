#pragma once
/// Long curves as a screen can show them.
#include <vector>

#include "app/picture_view.hpp"

namespace quarterturn::app {

/// Of the points within one pixel column the first, the lowest, the highest and the last, in their order: looks like
/// the whole line, and its size does not grow with the film. @param line  x never goes back
[[nodiscard]] std::vector<ScreenSpot> thinned(const std::vector<ScreenSpot>& line);

}  // namespace quarterturn::app
