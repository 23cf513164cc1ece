#include "body/picture_view.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/core/hal/intrin.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "body/small_pictures.hpp"
#include "media/tone.hpp"

namespace quarterturn::body {
namespace {

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
      transfer_(picture.colour.transfer),
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
        planes_[i] = {{plane.data, plane.stride_bytes, 1, plane.width, plane.height},
                      1.0 / (1 << shift_x),
                      1.0 / (1 << shift_y),
                      0.5 / (1 << shift_x),
                      0.5};
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

void PictureView::sample_row(std::size_t plane, const Walk& walk, int row, std::span<float> out) const {
    constexpr double rows_ahead = 3;
    const Samples& samples = planes_[plane];
    const Line line{walk.origin.x + row * walk.down.x, walk.origin.y + row * walk.down.y, walk.right.x, walk.right.y};
    const auto samples_on = [](double way) { return static_cast<std::ptrdiff_t>(std::clamp(way, -1e5, 1e5)); };
    const std::ptrdiff_t ahead = samples_on(rows_ahead * walk.down.y) * samples.stride +
                                 samples_on(rows_ahead * walk.down.x) * samples.step * (deep_ ? 2 : 1);
    deep_ ? sample_line<std::uint16_t>(samples, line, ahead, out)
          : sample_line<std::uint8_t>(samples, line, ahead, out);
}

void PictureView::crop_planes(const Region& region, int pixels, cv::Size part, float low, float high,
                              std::span<float> rgb) const {
    // Colour is read for two by two pixels at once, as coarsely as it is stored: it costs as much as brightness and the
    // networks hardly look at it.
    const int coarse = yuv_ ? pixels / 2 : pixels;
    std::array<Walk, 3> walks;
    for (std::size_t i = 0; i < 3; ++i) walks[i] = walk_over(planes_[i], region, i == 0 ? pixels : coarse);
    const auto width = static_cast<std::size_t>(part.width);
    const std::size_t coarse_width = yuv_ ? width / 2 : width;
    Rows rows{std::vector<float>(width), std::vector<float>(coarse_width), std::vector<float>(coarse_width)};
    for (int j = 0; j < part.height; ++j) {
        sample_row(0, walks[0], j, rows[0]);
        const bool fresh = !yuv_ || j % 2 == 0;
        for (std::size_t i = 1; fresh && i < 3; ++i) sample_row(i, walks[i], yuv_ ? j / 2 : j, rows[i]);
        const auto out = rgb.subspan(static_cast<std::size_t>(j) * 3 * width, 3 * width);
        yuv_ ? convert_yuv(rows, low, high, out) : scale_rgb(rows, low, high, out);
    }
}

void PictureView::scale_rgb(const Rows& rows, float low, float high, std::span<float> rgb) const {
    const float scale = (high - low) / 255.0F;
    float* out = rgb.data();
    for (std::size_t i = 0; i < rows[0].size(); ++i, out += 3) {
        out[0] = low + rows[0][i] * scale;
        out[1] = low + rows[1][i] * scale;
        out[2] = low + rows[2][i] * scale;
    }
}

void PictureView::convert_yuv(const Rows& rows, float low, float high, std::span<float> rgb) const {
    using Four = cv::v_float32x4;
    const auto all = [](float value) { return cv::v_setall_f32(value); };
    const Four black = all(offset_[0]), no_cb = all(offset_[1]), no_cr = all(offset_[2]), zero = all(0), top = all(1);
    const Four scale = all(weight_[0]), cr_red = all(weight_[1]), cb_green = all(weight_[2]),
               cr_green = all(weight_[3]), cb_blue = all(weight_[4]), first = all(low), range = all(high - low);
    const auto level = [&](const Four& share) { return first + range * cv::v_min(cv::v_max(share, zero), top); };
    // Four pairs of pixels at a time, each pair with one colour; the last four may be taken twice.
    const std::size_t pairs = rows[1].size();
    for (std::size_t i = 0; i < pairs; i += 4) {
        const std::size_t at = std::min(i, pairs - 4);
        const Four cb = cv::v_load(&rows[1][at]) - no_cb, cr = cv::v_load(&rows[2][at]) - no_cr;
        Four red[2], green[2], blue[2];
        const Four tint_red = cr_red * cr, tint_green = cb_green * cb + cr_green * cr, tint_blue = cb_blue * cb;
        cv::v_zip(tint_red, tint_red, red[0], red[1]);
        cv::v_zip(tint_green, tint_green, green[0], green[1]);
        cv::v_zip(tint_blue, tint_blue, blue[0], blue[1]);
        for (std::size_t half = 0; half < 2; ++half) {
            const std::size_t pixel = 2 * at + 4 * half;
            const Four y = (cv::v_load(&rows[0][pixel]) - black) * scale;
            cv::v_store_interleave(&rgb[3 * pixel], level(y + red[half]), level(y + green[half]),
                                   level(y + blue[half]));
        }
    }
}

void PictureView::to_standard_range(float low, float high, std::span<float> rgb) const {
    constexpr float top = 65535, white = 255;
    std::vector<std::uint16_t> signal(rgb.size());
    std::vector<std::uint8_t> shown(rgb.size());
    std::transform(rgb.begin(), rgb.end(), signal.begin(), [&](float value) {
        return static_cast<std::uint16_t>(std::clamp((value - low) / (high - low), 0.0F, 1.0F) * top + 0.5F);
    });
    media::to_standard(signal, transfer_, shown);
    std::transform(shown.begin(), shown.end(), rgb.begin(),
                   [&](std::uint8_t grey) { return low + (high - low) * static_cast<float>(grey) / white; });
}

void PictureView::blacken_outside(const Region& region, int pixels, float low, std::span<float> rgb) const {
    const Point origin = region.to_picture({0.5 / pixels, 0.5 / pixels});
    const Point right = region.to_picture({1.5 / pixels, 0.5 / pixels});
    const Point down = region.to_picture({0.5 / pixels, 1.5 / pixels});
    std::size_t at = 0;
    for (int j = 0; j < pixels; ++j) {
        for (int i = 0; i < pixels; ++i, at += 3) {
            const double x = origin.x + i * (right.x - origin.x) + j * (down.x - origin.x);
            const double y = origin.y + i * (right.y - origin.y) + j * (down.y - origin.y);
            const bool inside = x >= 0 && y >= 0 && x < shown_width_ && y < shown_height_;
            if (!inside) rgb[at] = rgb[at + 1] = rgb[at + 2] = low;
        }
    }
}

void PictureView::crop(const Region& region, int pixels, Border border, float low, float high,
                       std::span<float> rgb) const {
    crop_planes(region, pixels, {pixels, pixels}, low, high, rgb);
    if (transfer_ != media::Transfer::standard) to_standard_range(low, high, rgb);
    if (border == Border::black) blacken_outside(region, pixels, low, rgb);
}

cv::Mat PictureView::grey(const Region& region, int pixels, cv::Size part) const {
    const int width = std::max(8, part.width + part.width % 2);
    std::vector<float> rgb(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(part.height));
    crop_planes(region, pixels, {width, part.height}, 0, 255, rgb);
    if (transfer_ != media::Transfer::standard) to_standard_range(0, 255, rgb);
    cv::Mat out(part, CV_8U);
    for (int j = 0; j < part.height; ++j) {
        const float* from = rgb.data() + 3 * static_cast<std::ptrdiff_t>(width) * j;
        auto* to = out.ptr<std::uint8_t>(j);
        // ITU-R BT.601, of levels within 0..255.
        for (int i = 0; i < part.width; ++i, from += 3)
            to[i] = static_cast<std::uint8_t>(0.299F * from[0] + 0.587F * from[1] + 0.114F * from[2] + 0.5F);
    }
    return out;
}

cv::Mat PictureView::reduced_grey(int longest) const {
    const Samples& luma = planes_[0];
    int reduction = 1;
    while (std::max(shown_width_, shown_height_) / reduction > longest) reduction *= 2;
    cv::Size size{static_cast<int>(std::lround(shown_width_ / reduction)),
                  static_cast<int>(std::lround(shown_height_ / reduction))};
    if (rotation_deg_ == 90 || rotation_deg_ == -90) std::swap(size.width, size.height);
    // OpenCV has no read-only view; nothing below writes to it.
    const cv::Mat whole(luma.height, luma.width, CV_MAKETYPE(deep_ ? CV_16U : CV_8U, luma.step),
                        const_cast<std::uint8_t*>(luma.data), static_cast<std::size_t>(luma.stride));
    cv::Mat small;
    if (luma.step == 1 && size * reduction == whole.size() && reduction <= largest_reduction) {
        small = reduced(whole, reduction);
    } else {
        cv::Mat grey = whole;
        if (luma.step == 3) cv::cvtColor(whole, grey, cv::COLOR_RGB2GRAY);
        cv::resize(grey, small, {std::max(1, size.width), std::max(1, size.height)}, 0, 0, cv::INTER_AREA);
        if (deep_) small.convertTo(small, CV_8U, 1.0 / 4);
    }
    if (flipped_) cv::flip(small, small, 0);
    if (rotation_deg_ == -90) cv::rotate(small, small, cv::ROTATE_90_CLOCKWISE);
    if (rotation_deg_ == 90) cv::rotate(small, small, cv::ROTATE_90_COUNTERCLOCKWISE);
    if (rotation_deg_ == 180) cv::rotate(small, small, cv::ROTATE_180);
    return small;
}

}  // namespace quarterturn::body
