#pragma once
/// The earlier silhouette drawn on the later picture.
#include "body/mask_outline.hpp"
#include "media/image.hpp"

namespace quarterturn::compare {

/// Bright with a dark edge, so that it shows on skin and on any wall.
/// @param outline  pixels of the picture
void draw_outline(const body::OutlinePieces& outline, media::Image& rgb);

}  // namespace quarterturn::compare
