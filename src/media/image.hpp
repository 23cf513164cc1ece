#pragma once
/// Upright pictures for looking and measuring: packed samples, square pixels, rotation applied.
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "media/picture.hpp"
#include "media/probe.hpp"

namespace quarterturn::media {

/// Rows top to bottom without padding; `channels` 1 (grey, full range 0-255) or 3 (R, G, B, sRGB-like, full range).
struct Image {
    int width = 0;
    int height = 0;
    int channels = 3;
    std::vector<std::uint8_t> samples;
};

/// Upright RGB of the picture, at most `max_height` rows (0: full size), aspect kept. HLG and PQ are brought to a
/// sensible standard range.
[[nodiscard]] Result<Image> to_rgb(const Picture& picture, const ClipInfo& info, int max_height = 0);

/// Upright grey, from the luma plane alone (cheap: no colour conversion).
[[nodiscard]] Result<Image> to_grey(const Picture& picture, const ClipInfo& info, int max_height = 0);

/// PNG (ISO/IEC 15948) and JPEG files in memory; they carry no metadata.
[[nodiscard]] Result<std::string> encode_png(const Image& image);
/// @param quality 1..100, 100 best
[[nodiscard]] Result<std::string> encode_jpeg(const Image& image, int quality = 85);

}  // namespace quarterturn::media
