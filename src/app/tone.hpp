#pragma once
/// Planar YCbCr to what the screen shows, in plain arithmetic: the reference for the shader, which does the same on the
/// graphics card (window/yuv_program.cpp), and the numbers it is given.
#include <array>

#include "media/picture.hpp"

namespace quarterturn::app {

/// R'G'B' = rows * (Y, Cb, Cr) + offset, samples and result 0..1 (samples as stored / largest value).
/// From Kr and Kb of ITU-R BT.601, BT.709 or BT.2020 and the 16-235 / 16-240 range of limited pictures.
struct YuvMatrix {
    std::array<std::array<double, 3>, 3> rows{};
    std::array<double, 3> offset{};
};
/// @param bits  8 or 10: limited range scales by 2^(bits - 8)
[[nodiscard]] YuvMatrix yuv_matrix(media::Colour colour, int bits);

using Triple = std::array<double, 3>;

/// Non-linear R'G'B' of a high dynamic range picture to sRGB, each 0..1, by the steps of media/image.hpp's to_rgb, so
/// that a saved still looks like the window. HLG: the inverse OETF of ITU-R BT.2100 and the system gamma 1.2 of a
/// 1000 cd/m2 display; PQ: SMPTE ST 2084, clipped there. White is 203 cd/m2 (ITU-R BT.2408), BT.2020 is brought to
/// BT.709 primaries, highlights are rolled off by the brightest channel, and sRGB's curve encodes.
[[nodiscard]] Triple to_standard(const Triple& rgb, media::Transfer transfer);

/// One sample as the screen shows it, 0..1.
[[nodiscard]] Triple shown_colour(double y, double cb, double cr, media::Colour colour, int bits);

}  // namespace quarterturn::app
