#pragma once
/// Turning and mirroring packed samples. Private to this room.
#include "media/image.hpp"

namespace quarterturn::media {

/// `stored` as it is to be shown: mirrored top-bottom first when `flipped`, then turned by `rotation_deg`
/// (ClipInfo's sense: -90 = clockwise).
[[nodiscard]] Image upright(Image stored, int rotation_deg, bool flipped);

}  // namespace quarterturn::media
