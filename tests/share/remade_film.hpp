#pragma once
/// Films made from other films, picture by picture.
#include <filesystem>
#include <functional>
#include <vector>

#include "media/image.hpp"

namespace quarterturn::test {

/// Every `every`th picture of the seconds [from_s, to_s) of `source`, changed by `change`, as a film of its own whose
/// first picture is at 0. Stops the test when something cannot be read or written.
/// @param change  told the upright picture and its time in the new film; must always give the same size
void remake_film(const std::filesystem::path& source, double from_s, double to_s, int every,
                 const std::filesystem::path& made,
                 const std::function<media::Image(const media::Image&, double t_s)>& change);

/// Upright pictures of the seconds [from_s, to_s), every `every`th.
[[nodiscard]] std::vector<media::Image> pictures_of(const std::filesystem::path& source, double from_s, double to_s,
                                                    int every);

/// Pictures of one size at an even rate as a film.
/// @param rotation_deg  what the file says about showing it, as in media::ClipInfo
void write_film(const std::filesystem::path& film, const std::vector<media::Image>& pictures, int rate_hz,
                int rotation_deg = 0);

/// In pixels, as if the phone had lain on its side (90, -90: counter-clockwise, clockwise) or been upside down (180).
[[nodiscard]] media::Image lying(const media::Image& image, int rotation_deg);
[[nodiscard]] media::Image resized(const media::Image& image, int width, int height);
/// `right` beside `left`, both as high as `left`.
[[nodiscard]] media::Image side_by_side(const media::Image& left, const media::Image& right);
/// Left and right swapped, dimmed, as in a mirror on the wall.
[[nodiscard]] media::Image mirror_image(const media::Image& image);

/// `image` turned clockwise about its middle and shifted, edges repeated.
[[nodiscard]] media::Image moved(const media::Image& image, double x, double y, double turn_rad);

}  // namespace quarterturn::test
