#include "media/upright.hpp"

#include <algorithm>

namespace quarterturn::media {
namespace {

/// Where the sample shown at (x, y) is stored: position = origin + x * step_x + y * step_y, in samples.
struct Walk {
    std::ptrdiff_t origin = 0;
    std::ptrdiff_t step_x = 1;
    std::ptrdiff_t step_y = 0;
};

bool swaps(int rotation_deg) {
    return rotation_deg == 90 || rotation_deg == -90;
}

Walk walk_for(std::ptrdiff_t width, std::ptrdiff_t height, int rotation_deg, bool flipped) {
    // Stored coordinates of the shown (0,0), then the directions of shown x and y, mirroring applied last.
    Walk walk{0, 1, width};
    if (rotation_deg == -90) walk = {(height - 1) * width, -width, 1};
    if (rotation_deg == 90) walk = {width - 1, width, -1};
    if (rotation_deg == 180) walk = {height * width - 1, -1, -width};
    if (!flipped) return walk;
    const auto is_row_step = [&](std::ptrdiff_t step) { return step == width || step == -width; };
    const std::ptrdiff_t row = height - 1 - walk.origin / width;
    walk.origin = row * width + walk.origin % width;
    // In a one-column picture rows and columns step alike; the row is then the axis that runs along the height.
    const bool rows_along_x = width == 1 ? swaps(rotation_deg) : is_row_step(walk.step_x);
    (rows_along_x ? walk.step_x : walk.step_y) *= -1;
    return walk;
}

template <int Channels>
void copy_turned(const Image& stored, const Walk& walk, Image& shown) {
    std::uint8_t* out = shown.samples.data();
    const std::uint8_t* in = stored.samples.data();
    for (std::ptrdiff_t y = 0; y < shown.height; ++y) {
        std::ptrdiff_t at = walk.origin + y * walk.step_y;
        for (int x = 0; x < shown.width; ++x, at += walk.step_x)
            for (int c = 0; c < Channels; ++c) *out++ = in[at * Channels + c];
    }
}

}  // namespace

Image upright(Image stored, int rotation_deg, bool flipped) {
    if (rotation_deg == 0 && !flipped) return stored;
    const bool lies = swaps(rotation_deg);
    Image shown{lies ? stored.height : stored.width, lies ? stored.width : stored.height, stored.channels, {}};
    shown.samples.resize(stored.samples.size());
    const Walk walk = walk_for(stored.width, stored.height, rotation_deg, flipped);
    if (stored.channels == 1)
        copy_turned<1>(stored, walk, shown);
    else
        copy_turned<3>(stored, walk, shown);
    return shown;
}

}  // namespace quarterturn::media
