#include "media/image.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include "media/scale.hpp"
#include "media/shown_colour.hpp"
#include "media/upright.hpp"

namespace quarterturn::media {
namespace {

struct Size {
    int width = 0;
    int height = 0;
};

/// Size before turning of an image that is at most `max_height` rows after it.
Size stored_target(const ClipInfo& info, int max_height) {
    const int shown_width = std::max(1, info.shown_width());
    const int shown_height = std::max(1, info.shown_height());
    Size size{shown_width, shown_height};
    if (max_height > 0 && max_height < shown_height) {
        const double ratio = static_cast<double>(max_height) / shown_height;
        size = {std::max(1, static_cast<int>(std::lround(shown_width * ratio))), max_height};
    }
    if (std::abs(info.rotation_deg) == 90) std::swap(size.width, size.height);
    return size;
}

Error cannot_convert() {
    return {ErrorCode::unsupported, "This picture is stored in a way that cannot be converted for showing."};
}

/// A file whose pictures change size midway keeps each picture's own size as the base of the aspect.
ClipInfo info_for(const Picture& picture, const ClipInfo& info) {
    ClipInfo own;
    own.width = picture.width;
    own.height = picture.height;
    own.sample_aspect_num = info.sample_aspect_num;
    own.sample_aspect_den = info.sample_aspect_den;
    own.rotation_deg = info.rotation_deg;
    return own;
}

Image blank(Size size, int channels) {
    Image image{size.width, size.height, channels, {}};
    image.samples.resize(static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height) *
                         static_cast<std::size_t>(channels));
    return image;
}

Target target_for(Image& image) {
    return {image.channels == 1 ? AV_PIX_FMT_GRAY8 : AV_PIX_FMT_RGB24,
            image.width,
            image.height,
            {image.samples.data(), nullptr, nullptr, nullptr},
            {image.width * image.channels, 0, 0, 0}};
}

Result<Image> standard_rgb(const Picture& picture, Size size) {
    Image image = blank(size, 3);
    if (!scale(samples_of(picture), target_for(image), picture.colour, Quality::exact)) return cannot_convert();
    return image;
}

/// 16-bit R'G'B' of a row of full-size Y, Cb, Cr words, `bits` of which count from the top.
void row_rgb(std::array<const std::uint16_t*, 3> row, const YuvMatrix& matrix, int bits, std::span<std::uint16_t> out) {
    const double largest = std::ldexp(1.0, 16) - std::ldexp(1.0, 16 - bits);
    std::array<std::array<float, 4>, 3> m{};
    for (std::size_t c = 0; c < 3; ++c) {
        for (std::size_t i = 0; i < 3; ++i) m[c][i] = static_cast<float>(matrix.rows[c][i] / largest * 65535);
        m[c][3] = static_cast<float>(matrix.offset[c] * 65535) + 0.5F;
    }
    for (std::size_t x = 0; x < out.size() / 3; ++x)
        for (std::size_t c = 0; c < 3; ++c) {
            const float channel = m[c][0] * static_cast<float>(row[0][x]) + m[c][1] * static_cast<float>(row[1][x]) +
                                  m[c][2] * static_cast<float>(row[2][x]) + m[c][3];
            out[3 * x + c] = static_cast<std::uint16_t>(std::clamp(channel, 0.0F, 65535.0F));
        }
}

// The scaler only scales here: its own matrix is too coarse for PQ, where a small error of a bright channel lifts a
// dark one by up to 25 of 255.
Result<Image> high_range_rgb(const Picture& picture, Size size) {
    Image image = blank(size, 3);
    const std::size_t width = static_cast<std::size_t>(size.width);
    const std::size_t samples = width * static_cast<std::size_t>(size.height);
    std::vector<std::uint16_t> planes(3 * samples);
    Target target{AV_PIX_FMT_YUV444P16, size.width, size.height, {}, {}};
    for (std::size_t i = 0; i < 3; ++i) {
        target.data[i] = reinterpret_cast<std::uint8_t*>(planes.data() + i * samples);
        target.strides[i] = size.width * 2;
    }
    // Called limited, samples are only shifted up; of full ones it would make 65535 of 255 in luma alone.
    Colour shifted = picture.colour;
    shifted.range = Range::limited;
    if (!scale(samples_of(picture), target, shifted, Quality::exact)) return cannot_convert();
    const YuvMatrix matrix = yuv_matrix(picture.colour, picture.bits);
    std::vector<std::uint16_t> deep(3 * width);
    for (std::size_t start = 0; start < samples; start += width) {
        const std::uint16_t* row = planes.data() + start;
        row_rgb({row, row + samples, row + 2 * samples}, matrix, picture.bits, deep);
        to_standard(deep, picture.colour.transfer, std::span(image.samples).subspan(3 * start, 3 * width));
    }
    return image;
}

/// Luma as it is stored to full-range grey on a standard screen.
std::array<std::uint8_t, 256> luma_table(const Colour& colour) {
    std::array<std::uint8_t, 256> table{};
    for (int i = 0; i < 256; ++i) {
        int grey = i;
        // ITU-R BT.709: black at 16, white at 235.
        if (colour.range == Range::limited)
            grey = std::clamp(static_cast<int>(std::lround((i - 16) * 255.0 / 219)), 0, 255);
        if (colour.transfer != Transfer::standard) grey = grey_table(colour.transfer)[static_cast<std::size_t>(grey)];
        table[static_cast<std::size_t>(i)] = static_cast<std::uint8_t>(grey);
    }
    return table;
}

}  // namespace

Result<Image> to_rgb(const Picture& picture, const ClipInfo& info, int max_height) {
    const Size size = stored_target(info_for(picture, info), max_height);
    Result<Image> image =
        picture.colour.transfer == Transfer::standard ? standard_rgb(picture, size) : high_range_rgb(picture, size);
    if (!image) return image;
    return upright(std::move(image).value(), info.rotation_deg, info.flipped);
}

Result<Image> to_grey(const Picture& picture, const ClipInfo& info, int max_height) {
    Image image = blank(stored_target(info_for(picture, info), max_height), 1);
    if (!scale(luma_of(picture), target_for(image), picture.colour, Quality::fast)) return cannot_convert();
    const std::array<std::uint8_t, 256> table = luma_table(picture.colour);
    for (std::uint8_t& sample : image.samples) sample = table[sample];
    return upright(std::move(image), info.rotation_deg, info.flipped);
}

}  // namespace quarterturn::media
