#pragma once
/// From libav's decoded frame to Picture, without copying samples where the layout allows. Private to this room.
#include <optional>

#include "media/libav.hpp"
#include "media/picture.hpp"

namespace quarterturn::media {

/// What the stream or frame says about colour; what it leaves out is filled in by the usual practice: BT.709 for HD and
/// larger, BT.601 below (as in ITU-R BT.709 and BT.601 themselves), limited range.
[[nodiscard]] Colour colour_from(AVColorSpace space, AVColorRange range, AVColorTransferCharacteristic transfer,
                                 AVPixelFormat format, int width, int height);

/// Bits per sample handed on for a pixel format: 8 or 10.
[[nodiscard]] int bits_for(AVPixelFormat format);

/// Takes the samples out of `frame` (left empty). Planar YUV of 8 or 10 bits is handed on as it is; anything else (RGB,
/// grey, 12 bits, interleaved chroma) is converted to planar YUV. `pts` is the picture's timestamp.
/// nullopt when the frame has no samples or a layout that cannot be converted.
[[nodiscard]] std::optional<Picture> picture_from(AVFrame& frame, std::int64_t pts);

}  // namespace quarterturn::media
