#pragma once
/// Planar YCbCr to what the screen shows, in plain arithmetic: the numbers the window's shader is given, and what tests
/// compare it and the scaler of this room with.
#include "media/tone.hpp"

namespace quarterturn::media {

/// R'G'B' = rows * (Y, Cb, Cr) + offset, samples and result 0..1 (samples as stored / largest value).
/// From Kr and Kb of ITU-R BT.601, BT.709 or BT.2020 and the 16-235 / 16-240 range of limited pictures.
struct YuvMatrix {
    std::array<std::array<double, 3>, 3> rows{};
    std::array<double, 3> offset{};
};
/// @param bits  8 or 10: limited range scales by 2^(bits - 8)
[[nodiscard]] YuvMatrix yuv_matrix(const Colour& colour, int bits);

/// One sample as the screen shows it, 0..1: matrix and range, clipped, then HLG or PQ to a standard screen.
[[nodiscard]] Triple shown_colour(double y, double cb, double cr, const Colour& colour, int bits);

}  // namespace quarterturn::media
