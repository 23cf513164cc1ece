#pragma once
/// swscale with our colour descriptions. Private to this room.
#include "media/image.hpp"
#include "media/libav.hpp"
#include "media/picture.hpp"

namespace quarterturn::media {

/// Planes as swscale takes them.
struct Samples {
    AVPixelFormat format = AV_PIX_FMT_NONE;
    int width = 0;
    int height = 0;
    std::array<const std::uint8_t*, 4> data{};
    std::array<int, 4> strides{};
};

[[nodiscard]] Samples samples_of(const Picture& picture);  ///< format NONE: a layout swscale lacks
[[nodiscard]] Samples luma_of(const Picture& picture);
[[nodiscard]] Samples samples_of(const Image& image);

struct Target {
    AVPixelFormat format = AV_PIX_FMT_NONE;
    int width = 0;
    int height = 0;
    std::array<std::uint8_t*, 4> data{};
    std::array<int, 4> strides{};
};
/// A frame with planes of its own, up to three.
[[nodiscard]] Target target_in(AVFrame& frame);

/// Which of swscale's filters to use.
enum class Quality { fast, exact };

/// Scales and converts; the YUV side (whichever it is) is described by `colour`. The scaler for the last layout is kept
/// per thread, because setting one up costs more than using it. False: swscale cannot.
[[nodiscard]] bool scale(const Samples& from, const Target& to, const Colour& colour, Quality quality);

}  // namespace quarterturn::media
