#include "body/picture_view.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <vector>

namespace quarterturn::body {
namespace {

constexpr int fraction_bits = 16;
constexpr int one = 1 << fraction_bits;

int fixed(double value) {
    // Far outside is as good as just outside, and keeps the steps within 32 bits.
    return static_cast<int>(std::lround(std::clamp(value, -16000.0, 16000.0) * one));
}

template <class Sample>
float sample_at(const std::uint8_t* row, int index) {
    Sample value{};
    std::memcpy(&value, row + static_cast<std::ptrdiff_t>(index) * static_cast<std::ptrdiff_t>(sizeof(Sample)),
                sizeof(Sample));
    return static_cast<float>(value);
}

struct Line {
    int x = 0;
    int y = 0;
    int step_x = 0;
    int step_y = 0;
};

/// Bilinear samples along a straight line; `Inside`: no neighbour can fall outside.
template <class Sample, bool Inside>
void sample_line(const std::uint8_t* data, std::ptrdiff_t stride, int step, int width, int height, Line line, int count,
                 float* out) {
    for (int i = 0; i < count; ++i, line.x += line.step_x, line.y += line.step_y) {
        int x0 = line.x >> fraction_bits;
        int y0 = line.y >> fraction_bits;
        const float fx = static_cast<float>(line.x & (one - 1)) * (1.0F / one);
        const float fy = static_cast<float>(line.y & (one - 1)) * (1.0F / one);
        int x1 = x0 + 1;
        int y1 = y0 + 1;
        if constexpr (!Inside) {
            x0 = std::clamp(x0, 0, width - 1);
            x1 = std::clamp(x1, 0, width - 1);
            y0 = std::clamp(y0, 0, height - 1);
            y1 = std::clamp(y1, 0, height - 1);
        }
        const std::uint8_t* upper = data + y0 * stride;
        const std::uint8_t* lower = data + y1 * stride;
        const float a = sample_at<Sample>(upper, x0 * step);
        const float b = sample_at<Sample>(upper, x1 * step);
        const float c = sample_at<Sample>(lower, x0 * step);
        const float d = sample_at<Sample>(lower, x1 * step);
        const float top = a + (b - a) * fx;
        const float bottom = c + (d - c) * fx;
        out[3 * i] = top + (bottom - top) * fy;
    }
}

bool stays_inside(const Line& line, int count, int width, int height) {
    const auto within = [](std::int64_t at, int extent) { return at >= 0 && (at >> fraction_bits) + 1 < extent; };
    const std::int64_t last = count - 1;
    return within(line.x, width) && within(line.y, height) && within(line.x + last * line.step_x, width) &&
           within(line.y + last * line.step_y, height);
}

struct LumaWeights {
    double kr = 0.2126;
    double kb = 0.0722;
};

/// ITU-R BT.601, BT.709 and BT.2020.
LumaWeights weights_of(media::Matrix matrix) {
    if (matrix == media::Matrix::bt601) return {0.299, 0.114};
    if (matrix == media::Matrix::bt2020) return {0.2627, 0.0593};
    return {};
}

}  // namespace

PictureView::PictureView(const media::Image& image)
    : shown_width_(image.width), shown_height_(image.height), stored_width_(image.width), stored_height_(image.height) {
    for (std::size_t i = 0; i < 3; ++i) {
        Samples& plane = planes_[i];
        plane.step = image.channels;
        plane.data = image.samples.data() + (image.channels == 3 ? i : 0);
        plane.stride = static_cast<std::ptrdiff_t>(image.width) * image.channels;
        plane.width = image.width;
        plane.height = image.height;
        plane.site_x = plane.site_y = 0.5;
    }
}

PictureView::PictureView(const media::Picture& picture, const media::ClipInfo& info)
    : yuv_(true),
      deep_(picture.bits > 8),
      shown_width_(std::max(1, info.shown_width())),
      shown_height_(std::max(1, info.shown_height())),
      stored_width_(picture.width),
      stored_height_(picture.height),
      rotation_deg_(info.rotation_deg),
      flipped_(info.flipped) {
    for (std::size_t i = 0; i < 3; ++i) {
        const media::Plane& plane = picture.planes[i];
        const int shift_x = i == 0 ? 0 : picture.chroma_shift_x;
        const int shift_y = i == 0 ? 0 : picture.chroma_shift_y;
        // Chroma lies on every other luma sample across and between two rows down (the usual siting of 4:2:0).
        planes_[i] = {plane.data,           plane.stride_bytes,   1,  plane.width, plane.height, 1.0 / (1 << shift_x),
                      1.0 / (1 << shift_y), 0.5 / (1 << shift_x), 0.5};
    }
    const double top = (1 << picture.bits) - 1;
    const double unit = 1 << (picture.bits - 8);
    const bool limited = picture.colour.range == media::Range::limited;
    const double luma = 1.0 / (limited ? 219 * unit : top);
    const double chroma = 1.0 / (limited ? 224 * unit : top);
    const auto [kr, kb] = weights_of(picture.colour.matrix);
    const double kg = 1 - kr - kb;
    offset_ = {static_cast<float>(limited ? 16 * unit : 0), static_cast<float>(128 * unit),
               static_cast<float>(128 * unit)};
    weight_ = {static_cast<float>(luma), static_cast<float>(2 * (1 - kr) * chroma),
               static_cast<float>(-2 * kb * (1 - kb) / kg * chroma),
               static_cast<float>(-2 * kr * (1 - kr) / kg * chroma), static_cast<float>(2 * (1 - kb) * chroma)};
}

/// The container's turning undone, in stored samples; the sense is ClipInfo's.
Point PictureView::stored(Point shown) const {
    const double u = shown.x / shown_width_;
    const double v = shown.y / shown_height_;
    Point at{u, v};
    if (rotation_deg_ == -90) at = {v, 1 - u};
    if (rotation_deg_ == 90) at = {1 - v, u};
    if (rotation_deg_ == 180) at = {1 - u, 1 - v};
    if (flipped_) at.y = 1 - at.y;
    return {at.x * stored_width_, at.y * stored_height_};
}

PictureView::Walk PictureView::walk_over(const Samples& plane, const Region& region, int pixels) const {
    const double step = 1.0 / pixels;
    const auto index_of = [&](Point inside) {
        const Point at = stored(region.to_picture(inside));
        return Point{at.x * plane.scale_x - plane.site_x, at.y * plane.scale_y - plane.site_y};
    };
    const Point origin = index_of({step / 2, step / 2});
    const Point right = index_of({step * 1.5, step / 2});
    const Point down = index_of({step / 2, step * 1.5});
    return {origin, {right.x - origin.x, right.y - origin.y}, {down.x - origin.x, down.y - origin.y}};
}

template <class Sample>
void PictureView::crop_planes(const Region& region, int pixels, std::span<float> rgb) const {
    for (std::size_t channel = 0; channel < 3; ++channel) {
        const Samples& plane = planes_[channel];
        const Walk walk = walk_over(plane, region, pixels);
        for (int j = 0; j < pixels; ++j) {
            const Line line{fixed(walk.origin.x + j * walk.down.x), fixed(walk.origin.y + j * walk.down.y),
                            fixed(walk.right.x), fixed(walk.right.y)};
            float* out =
                rgb.data() + static_cast<std::ptrdiff_t>(j) * pixels * 3 + static_cast<std::ptrdiff_t>(channel);
            if (stays_inside(line, pixels, plane.width, plane.height)) {
                sample_line<Sample, true>(plane.data, plane.stride, plane.step, plane.width, plane.height, line, pixels,
                                          out);
            } else {
                sample_line<Sample, false>(plane.data, plane.stride, plane.step, plane.width, plane.height, line,
                                           pixels, out);
            }
        }
    }
}

void PictureView::convert_row(std::span<float> rgb, float low, float high) const {
    const float range = high - low;
    if (!yuv_) {
        for (float& value : rgb) value = low + value * (range / 255.0F);
        return;
    }
    for (std::size_t i = 0; i < rgb.size(); i += 3) {
        const float y = (rgb[i] - offset_[0]) * weight_[0];
        const float cb = rgb[i + 1] - offset_[1];
        const float cr = rgb[i + 2] - offset_[2];
        const float red = y + weight_[1] * cr;
        const float green = y + weight_[2] * cb + weight_[3] * cr;
        const float blue = y + weight_[4] * cb;
        rgb[i] = low + range * std::clamp(red, 0.0F, 1.0F);
        rgb[i + 1] = low + range * std::clamp(green, 0.0F, 1.0F);
        rgb[i + 2] = low + range * std::clamp(blue, 0.0F, 1.0F);
    }
}

void PictureView::blacken_outside(const Region& region, int pixels, float low, std::span<float> rgb) const {
    std::size_t at = 0;
    for (int j = 0; j < pixels; ++j) {
        for (int i = 0; i < pixels; ++i, at += 3) {
            const Point here = region.to_picture({(i + 0.5) / pixels, (j + 0.5) / pixels});
            const bool inside = here.x >= 0 && here.y >= 0 && here.x < shown_width_ && here.y < shown_height_;
            if (!inside) rgb[at] = rgb[at + 1] = rgb[at + 2] = low;
        }
    }
}

void PictureView::crop(const Region& region, int pixels, Border border, float low, float high,
                       std::span<float> rgb) const {
    if (deep_) {
        crop_planes<std::uint16_t>(region, pixels, rgb);
    } else {
        crop_planes<std::uint8_t>(region, pixels, rgb);
    }
    convert_row(rgb, low, high);
    if (border == Border::black) blacken_outside(region, pixels, low, rgb);
}

}  // namespace quarterturn::body
