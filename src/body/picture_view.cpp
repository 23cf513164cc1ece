#include "body/picture_view.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "media/tone.hpp"

namespace quarterturn::body {
namespace {

constexpr int fraction_bits = 16;
constexpr int one = 1 << fraction_bits;

std::int64_t fixed(double value) {
    // Far outside is as good as just outside, and keeps whole positions within 32 bits.
    return static_cast<std::int64_t>(std::llround(std::clamp(value, -16000.0, 16000.0) * one));
}

/// Packed samples of one plane.
struct Grid {
    const std::uint8_t* data = nullptr;
    std::ptrdiff_t stride = 0;  ///< bytes between rows
    int step = 1;               ///< samples between neighbours
    int width = 0;
    int height = 0;
};

struct Line {
    std::int64_t x = 0;
    std::int64_t y = 0;
    std::int64_t step_x = 0;
    std::int64_t step_y = 0;

    [[nodiscard]] Line after(int count) const { return {x + count * step_x, y + count * step_y, step_x, step_y}; }
};

template <class Sample>
std::uint32_t sample_at(const std::uint8_t* row, int index) {
    Sample value{};
    std::memcpy(&value, row + static_cast<std::ptrdiff_t>(index) * static_cast<std::ptrdiff_t>(sizeof(Sample)),
                sizeof(Sample));
    return value;
}

/// Bilinear samples along a straight line; `Inside`: no neighbour can fall outside. Positions count to 1/64 sample:
/// four neighbours weighted so fit in 32 bits for 8 and for 10 bit samples.
template <class Sample, bool Inside>
void sample_stretch(const Grid& grid, Line line, int count, float* out) {
    constexpr std::uint32_t whole = 64;
    constexpr int drop = fraction_bits - 6;
    for (int i = 0; i < count; ++i, line.x += line.step_x, line.y += line.step_y) {
        int x0 = static_cast<int>(line.x >> fraction_bits);
        int y0 = static_cast<int>(line.y >> fraction_bits);
        const auto fx = static_cast<std::uint32_t>(line.x >> drop) % whole;
        const auto fy = static_cast<std::uint32_t>(line.y >> drop) % whole;
        int x1 = x0 + 1;
        int y1 = y0 + 1;
        if constexpr (!Inside) {
            x0 = std::clamp(x0, 0, grid.width - 1);
            x1 = std::clamp(x1, 0, grid.width - 1);
            y0 = std::clamp(y0, 0, grid.height - 1);
            y1 = std::clamp(y1, 0, grid.height - 1);
        }
        const std::uint8_t* upper = grid.data + y0 * grid.stride;
        const std::uint8_t* lower = grid.data + y1 * grid.stride;
        const std::uint32_t left =
            sample_at<Sample>(upper, x0 * grid.step) * (whole - fy) + sample_at<Sample>(lower, x0 * grid.step) * fy;
        const std::uint32_t right =
            sample_at<Sample>(upper, x1 * grid.step) * (whole - fy) + sample_at<Sample>(lower, x1 * grid.step) * fy;
        out[i] =
            static_cast<float>(static_cast<std::int32_t>(left * (whole - fx) + right * fx)) * (1.0F / (whole * whole));
    }
}

/// The steps [first, second) of a line at which `start + i * step` and its neighbour lie inside `extent` samples.
std::pair<int, int> inside_steps(std::int64_t start, std::int64_t step, int extent, int count) {
    const std::int64_t top = (static_cast<std::int64_t>(extent) - 1) << fraction_bits;  // exclusive
    if (step == 0) return start >= 0 && start < top ? std::pair{0, count} : std::pair{0, 0};
    const auto at = [&](std::int64_t value) { return static_cast<double>(value - start) / static_cast<double>(step); };
    // At a falling step the far end is met first.
    const double enter = step > 0 ? at(0) : at(top - 1);
    const double leave = step > 0 ? at(top - 1) : at(0);
    const int first = static_cast<int>(std::clamp(std::ceil(enter), 0.0, static_cast<double>(count)));
    const int last = static_cast<int>(std::clamp(std::floor(leave) + 1, 0.0, static_cast<double>(count)));
    return {first, std::max(first, last)};
}

template <class Sample>
void sample_line(const Grid& grid, const Line& line, int count, float* out) {
    const auto across = inside_steps(line.x, line.step_x, grid.width, count);
    const auto down = inside_steps(line.y, line.step_y, grid.height, count);
    const int first = std::min(std::max(across.first, down.first), count);
    const int last = std::max(first, std::min(across.second, down.second));
    sample_stretch<Sample, false>(grid, line, first, out);
    sample_stretch<Sample, true>(grid, line.after(first), last - first, out + first);
    sample_stretch<Sample, false>(grid, line.after(last), count - last, out + last);
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
void PictureView::sample_row(std::size_t plane, const Walk& walk, int row, std::span<float> out) const {
    const Samples& samples = planes_[plane];
    const Line line{fixed(walk.origin.x + row * walk.down.x), fixed(walk.origin.y + row * walk.down.y),
                    fixed(walk.right.x), fixed(walk.right.y)};
    const Grid grid{samples.data, samples.stride, samples.step, samples.width, samples.height};
    sample_line<Sample>(grid, line, static_cast<int>(out.size()), out.data());
}

template <class Sample>
void PictureView::crop_planes(const Region& region, int pixels, float low, float high, std::span<float> rgb) const {
    // Colour is read for two by two pixels at once, as coarsely as it is stored: it costs as much as brightness and the
    // networks hardly look at it.
    const int coarse = yuv_ ? pixels / 2 : pixels;
    std::array<Walk, 3> walks;
    for (std::size_t i = 0; i < 3; ++i) walks[i] = walk_over(planes_[i], region, i == 0 ? pixels : coarse);
    const auto width = static_cast<std::size_t>(pixels);
    const auto coarse_width = static_cast<std::size_t>(coarse);
    std::array<std::vector<float>, 3> rows{std::vector<float>(width), std::vector<float>(coarse_width),
                                           std::vector<float>(coarse_width)};
    for (int j = 0; j < pixels; ++j) {
        sample_row<Sample>(0, walks[0], j, rows[0]);
        const bool fresh = !yuv_ || j % 2 == 0;
        for (std::size_t i = 1; fresh && i < 3; ++i) sample_row<Sample>(i, walks[i], yuv_ ? j / 2 : j, rows[i]);
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
    const float range = high - low;
    const auto level = [low, range](float share) { return low + range * std::min(std::max(share, 0.0F), 1.0F); };
    const float* luma = rows[0].data();
    float* out = rgb.data();
    for (std::size_t i = 0; i < rows[1].size(); ++i) {
        const float cb = rows[1][i] - offset_[1];
        const float cr = rows[2][i] - offset_[2];
        const float red = weight_[1] * cr;
        const float green = weight_[2] * cb + weight_[3] * cr;
        const float blue = weight_[4] * cb;
        for (int k = 0; k < 2; ++k, ++luma, out += 3) {
            const float y = (*luma - offset_[0]) * weight_[0];
            out[0] = level(y + red);
            out[1] = level(y + green);
            out[2] = level(y + blue);
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
    if (deep_) {
        crop_planes<std::uint16_t>(region, pixels, low, high, rgb);
    } else {
        crop_planes<std::uint8_t>(region, pixels, low, high, rgb);
    }
    if (transfer_ != media::Transfer::standard) to_standard_range(low, high, rgb);
    if (border == Border::black) blacken_outside(region, pixels, low, rgb);
}

cv::Mat PictureView::reduced_grey(int longest) const {
    const Samples& luma = planes_[0];
    const int type = CV_MAKETYPE(deep_ ? CV_16U : CV_8U, luma.step);
    // OpenCV has no read-only view; nothing below writes to it.
    cv::Mat whole(luma.height, luma.width, type, const_cast<std::uint8_t*>(luma.data),
                  static_cast<std::size_t>(luma.stride));
    cv::Mat grey;
    if (luma.step == 3) cv::cvtColor(whole, grey, cv::COLOR_RGB2GRAY);
    int reduction = 1;
    while (std::max(shown_width_, shown_height_) / reduction > longest) reduction *= 2;
    cv::Size size{static_cast<int>(std::lround(shown_width_ / reduction)),
                  static_cast<int>(std::lround(shown_height_ / reduction))};
    if (rotation_deg_ == 90 || rotation_deg_ == -90) std::swap(size.width, size.height);
    cv::Mat small;
    cv::resize(grey.empty() ? whole : grey, small, {std::max(1, size.width), std::max(1, size.height)}, 0, 0,
               cv::INTER_AREA);
    if (deep_) small.convertTo(small, CV_8U, 1.0 / 4);
    if (flipped_) cv::flip(small, small, 0);
    if (rotation_deg_ == -90) cv::rotate(small, small, cv::ROTATE_90_CLOCKWISE);
    if (rotation_deg_ == 90) cv::rotate(small, small, cv::ROTATE_90_COUNTERCLOCKWISE);
    if (rotation_deg_ == 180) cv::rotate(small, small, cv::ROTATE_180);
    return small;
}

}  // namespace quarterturn::body
