#include "compare/laid_over.hpp"

#include <cmath>
#include <opencv2/imgproc.hpp>

namespace quarterturn::compare {
namespace {

constexpr double nearly = 0.02;  // pixels

/// OpenCV counts from the first pixel's centre.
cv::Matx23d by_centres(const Affine& m) {
    return {m[0], m[1], m[2] + 0.5 * (m[0] + m[1]) - 0.5, m[3], m[4], m[5] + 0.5 * (m[3] + m[4]) - 0.5};
}

/// Whether the map only scales and shifts, and fills the target exactly: then plain resizing is the same and quicker.
bool fills(const Affine& m, const cv::Size& from, const cv::Size& to) {
    return m[1] == 0 && m[3] == 0 && m[0] > 0 && m[4] > 0 && std::abs(m[2]) < nearly && std::abs(m[5]) < nearly &&
           std::abs(m[0] * from.width - to.width) < nearly && std::abs(m[4] * from.height - to.height) < nearly;
}

void draw_plane(const cv::Mat& from, Affine map, cv::Mat to, const cv::Scalar& outside) {
    if (fills(map, from.size(), to.size())) {
        cv::resize(from, to, to.size(), 0, 0, map[0] < 0.75 ? cv::INTER_AREA : cv::INTER_LINEAR);
        return;
    }
    // Straight lines between neighbours would leave out most samples of a picture that is made much smaller.
    cv::Mat source = from;
    const double scale = std::sqrt(std::abs(map[0] * map[4] - map[1] * map[3]));
    const int shrink = scale > 0 ? static_cast<int>(1 / scale + 0.35) : 1;
    if (shrink >= 2) {
        const cv::Size small(std::max(1, from.cols / shrink), std::max(1, from.rows / shrink));
        cv::Mat reduced;
        cv::resize(from, reduced, small, 0, 0, cv::INTER_AREA);
        source = reduced;
        map = after(scaled(static_cast<double>(from.cols) / small.width, static_cast<double>(from.rows) / small.height),
                    map);
    }
    cv::warpAffine(source, to, by_centres(map), to.size(), cv::INTER_LINEAR, cv::BORDER_CONSTANT, outside);
}

}  // namespace

Affine after(const Affine& p, const Affine& q) {
    return {q[0] * p[0] + q[1] * p[3], q[0] * p[1] + q[1] * p[4], q[0] * p[2] + q[1] * p[5] + q[2],
            q[3] * p[0] + q[4] * p[3], q[3] * p[1] + q[4] * p[4], q[3] * p[2] + q[4] * p[5] + q[5]};
}

Affine scaled(double sx, double sy, double shift_x, double shift_y) {
    return {sx, 0, shift_x, 0, sy, shift_y};
}

Affine stored_to_shown(const media::ClipInfo& info, bool mirrored) {
    const double w = info.width, h = info.height;
    Affine map = scaled(1, 1);
    if (info.flipped) map = {1, 0, 0, 0, -1, h};
    // As turned counter-clockwise by rotation_deg.
    double turned_w = w, turned_h = h;
    if (info.rotation_deg == -90) {
        map = after(map, {0, -1, h, 1, 0, 0});
        std::swap(turned_w, turned_h);
    } else if (info.rotation_deg == 90) {
        map = after(map, {0, 1, 0, -1, 0, w});
        std::swap(turned_w, turned_h);
    } else if (info.rotation_deg == 180) {
        map = after(map, {-1, 0, w, 0, -1, h});
    }
    map = after(map, scaled(info.shown_width() / turned_w, info.shown_height() / turned_h));
    if (mirrored) map = after(map, {-1, 0, static_cast<double>(info.shown_width()), 0, 1, 0});
    return map;
}

void lay_over(const media::Picture& picture, const Affine& to_out, const Area& area, media::BlankPicture& out) {
    const Affine to_area = after(to_out, scaled(1, 1, -area.x, -area.y));
    for (std::size_t p = 0; p < 3; ++p) {
        const int part = p == 0 ? 1 : 2;
        const media::Plane& plane = picture.planes[p];
        // OpenCV takes no constant data; `from` is only read.
        const cv::Mat from(plane.height, plane.width, CV_8UC1, const_cast<std::uint8_t*>(plane.data),
                           static_cast<std::size_t>(plane.stride_bytes));
        cv::Mat whole(out.height / part, out.width / part, CV_8UC1, out.planes[p],
                      static_cast<std::size_t>(out.strides[p]));
        cv::Mat to = whole(cv::Rect(area.x / part, area.y / part, area.width / part, area.height / part));
        Affine map = to_area;
        if (p > 0) map = after(after(scaled(2, 2), to_area), scaled(0.5, 0.5));
        draw_plane(from, map, to, cv::Scalar(p == 0 ? 16 : 128));
    }
}

media::Image laid_over(const media::Image& image, const Affine& to_out, int width, int height) {
    media::Image out{width, height, image.channels, {}};
    out.samples.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) *
                       static_cast<std::size_t>(image.channels));
    const int type = CV_8UC(image.channels);
    const cv::Mat from(image.height, image.width, type, const_cast<std::uint8_t*>(image.samples.data()));
    cv::Mat to(height, width, type, out.samples.data());
    draw_plane(from, to_out, to, cv::Scalar::all(0));
    return out;
}

}  // namespace quarterturn::compare
