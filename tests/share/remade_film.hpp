#pragma once
/// Films made from other films, picture by picture.
#include <filesystem>
#include <functional>

#include "media/image.hpp"

namespace quarterturn::test {

/// Every `every`th picture of the seconds [from_s, to_s) of `source`, changed by `change`, as a film of its own whose
/// first picture is at 0. Stops the test when something cannot be read or written.
/// @param change  told the upright picture and its time in the new film; must always give the same size
void remake_film(const std::filesystem::path& source, double from_s, double to_s, int every,
                 const std::filesystem::path& made,
                 const std::function<media::Image(const media::Image&, double t_s)>& change);

/// `image` turned clockwise about its middle and shifted, edges repeated.
[[nodiscard]] media::Image moved(const media::Image& image, double x, double y, double turn_rad);

}  // namespace quarterturn::test
