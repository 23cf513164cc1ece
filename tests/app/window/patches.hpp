#pragma once
/// Pictures of square patches in seeded colours, in any of the layouts a film may have.
#include <array>
#include <random>
#include <vector>

#include "media/shown_colour.hpp"

namespace quarterturn::test {

struct Layout {
    int bits = 8;
    int chroma_shift = 1;  ///< both ways: 0 is 4:4:4, 1 is 4:2:0
    media::Colour colour{};
    bool any_sample = false;  ///< also colours that no screen can show; else R'G'B' within 0..1
    unsigned seed = 1;
};

constexpr int patch = 16;  ///< samples

/// Samples of one patch.
inline std::array<unsigned, 3> random_samples(const Layout& layout, std::mt19937& random) {
    const unsigned largest = layout.bits > 8 ? 1023 : 255;
    const media::YuvMatrix matrix = media::yuv_matrix(layout.colour, layout.bits);
    while (true) {
        std::array<unsigned, 3> samples{};
        for (unsigned& sample : samples) sample = static_cast<unsigned>(random() % (largest + 1));
        bool can_be_shown = true;
        for (std::size_t row = 0; row < 3; ++row) {
            double channel = matrix.offset[row];
            for (std::size_t i = 0; i < 3; ++i) channel += matrix.rows[row][i] * samples[i] / largest;
            can_be_shown = can_be_shown && channel >= 0 && channel <= 1;
        }
        if (layout.any_sample || can_be_shown) return samples;
    }
}

/// Every patch has one colour among all that samples can be, also those outside the nominal range; no two neighbours
/// are alike, so that a picture turned the wrong way does not pass for the right one.
inline media::Picture patches(int columns, int rows, const Layout& layout) {
    std::mt19937 random(layout.seed);
    std::vector<std::array<unsigned, 3>> colours(static_cast<std::size_t>(columns * rows));
    for (auto& colour : colours) colour = random_samples(layout, random);
    const std::size_t bytes = layout.bits > 8 ? 2 : 1;
    media::Picture picture;
    picture.width = columns * patch;
    picture.height = rows * patch;
    picture.bits = layout.bits;
    picture.chroma_shift_x = picture.chroma_shift_y = layout.chroma_shift;
    picture.colour = layout.colour;
    // A little more than the row is wide, as decoders give it.
    const int stride = (picture.width + 16) * static_cast<int>(bytes);
    auto samples =
        std::make_shared<std::vector<std::uint8_t>>(static_cast<std::size_t>(3 * stride * picture.height), 0xEE);
    for (std::size_t i = 0; i < 3; ++i) {
        const int shift = i == 0 ? 0 : layout.chroma_shift;
        std::uint8_t* start = samples->data() + i * static_cast<std::size_t>(stride * picture.height);
        picture.planes[i] = {start, stride, picture.width >> shift, picture.height >> shift};
        for (int y = 0; y < picture.planes[i].height; ++y)
            for (int x = 0; x < picture.planes[i].width; ++x) {
                const int side = patch >> shift;
                const unsigned sample = colours[static_cast<std::size_t>(y / side * columns + x / side)][i];
                std::uint8_t* at = start + std::ptrdiff_t{y} * stride + std::ptrdiff_t{x} * static_cast<int>(bytes);
                at[0] = static_cast<std::uint8_t>(sample);
                if (bytes == 2) at[1] = static_cast<std::uint8_t>(sample >> 8U);
            }
    }
    picture.storage = samples;
    return picture;
}

}  // namespace quarterturn::test
