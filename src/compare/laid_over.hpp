#pragma once
/// Draws a picture into another by an affine map: what brings the earlier picture to the later one's scale and place.
#include <array>

#include "compare/similarity.hpp"
#include "media/film_picture.hpp"
#include "media/image.hpp"
#include "media/probe.hpp"

namespace quarterturn::compare {

/// {a, b, c, d, e, f}: x' = a x + b y + c, y' = d x + e y + f; pixels, the first pixel's centre at (0.5, 0.5).
using Affine = std::array<double, 6>;

[[nodiscard]] Affine after(const Affine& first, const Affine& second);  ///< first, then second
[[nodiscard]] Affine scaled(double sx, double sy, double shift_x = 0, double shift_y = 0);

/// From a picture's stored samples to the picture as it is shown: square samples, upright, mirrored back where
/// `mirrored`. Its size is that of ClipInfo's shown size.
[[nodiscard]] Affine stored_to_shown(const media::ClipInfo& info, bool mirrored);

/// Part of a film picture; all even.
struct Area {
    int x = 0, y = 0, width = 0, height = 0;
};

/// Draws `picture` (as films are written) into `area` of `out`, cut at the area's edges; the rest of the area is black.
/// @param to_out  from stored samples to pixels of `out`
void lay_over(const media::Picture& picture, const Affine& to_out, const Area& area, media::BlankPicture& out);

/// The same with RGB images: a new image of the given size.
[[nodiscard]] media::Image laid_over(const media::Image& image, const Affine& to_out, int width, int height);

}  // namespace quarterturn::compare
