#include "media/film_picture.hpp"

#include <algorithm>

#include "media/probe.hpp"
#include "media/scale.hpp"

namespace quarterturn::media {
namespace {

Error cannot_convert() {
    return {ErrorCode::unsupported, "This picture is stored in a way that cannot be converted for a film."};
}

Target target_for(const BlankPicture& blank) {
    return {AV_PIX_FMT_YUV420P,
            blank.width,
            blank.height,
            {blank.planes[0], blank.planes[1], blank.planes[2], nullptr},
            {blank.strides[0], blank.strides[1], blank.strides[2], 0}};
}

int even(int size) {
    return size + size % 2;
}

}  // namespace

bool is_film_picture(const Picture& picture) {
    return picture.bits == 8 && picture.chroma_shift_x == 1 && picture.chroma_shift_y == 1 &&
           picture.colour == film_colour;
}

BlankPicture blank_picture(int width, int height) {
    BlankPicture blank;
    blank.width = width;
    blank.height = height;
    const auto luma = static_cast<std::size_t>(width) * static_cast<std::size_t>(height), chroma = luma / 4;
    blank.samples = std::make_shared<std::vector<std::uint8_t>>(luma + 2 * chroma, std::uint8_t{128});
    std::fill_n(blank.samples->begin(), luma, std::uint8_t{16});
    std::uint8_t* start = blank.samples->data();
    blank.planes = {start, start + luma, start + luma + chroma};
    blank.strides = {width, width / 2, width / 2};
    return blank;
}

Picture BlankPicture::picture(std::int64_t pts) const {
    Picture out;
    out.pts = pts;
    out.width = width;
    out.height = height;
    out.colour = film_colour;
    out.storage = samples;
    for (std::size_t i = 0; i < 3; ++i)
        out.planes[i] = {planes[i], strides[i], i == 0 ? width : width / 2, i == 0 ? height : height / 2};
    return out;
}

Result<Picture> film_picture(const Image& rgb) {
    if (rgb.channels != 3 || rgb.width % 2 != 0 || rgb.height % 2 != 0 || rgb.width < 2 || rgb.height < 2)
        return Error{ErrorCode::bad_input, "A film takes RGB pictures of even width and height."};
    const BlankPicture blank = blank_picture(rgb.width, rgb.height);
    if (!scale(samples_of(rgb), target_for(blank), film_colour, Quality::exact)) return cannot_convert();
    return blank.picture(0);
}

/// By way of RGB: swscale given two different matrices in one step ignores the range of one of them.
Result<Picture> film_picture(const Picture& picture) {
    if (is_film_picture(picture)) return picture;
    ClipInfo as_stored;
    as_stored.width = picture.width;
    as_stored.height = picture.height;
    Result<Image> rgb = to_rgb(picture, as_stored);
    if (!rgb) return rgb.error();
    if (rgb->width % 2 == 0 && rgb->height % 2 == 0) {
        Result<Picture> made = film_picture(*rgb);
        if (made) made->pts = picture.pts;
        return made;
    }
    // An odd size: the last row or column is repeated.
    Image wider{even(rgb->width), even(rgb->height), 3, {}};
    for (int y = 0; y < wider.height; ++y) {
        const std::size_t from =
            static_cast<std::size_t>(std::min(y, rgb->height - 1)) * static_cast<std::size_t>(rgb->width) * 3;
        const auto row = rgb->samples.begin() + static_cast<std::ptrdiff_t>(from);
        wider.samples.insert(wider.samples.end(), row, row + rgb->width * 3);
        if (wider.width > rgb->width)
            wider.samples.insert(wider.samples.end(), row + rgb->width * 3 - 3, row + rgb->width * 3);
    }
    Result<Picture> made = film_picture(wider);
    if (!made) return made;
    made->pts = picture.pts;
    made->width = picture.width;
    made->height = picture.height;
    return made;
}

}  // namespace quarterturn::media
