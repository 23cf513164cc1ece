#include "body/picture_view.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>
#include <opencv2/imgproc.hpp>

using namespace quarterturn;
using namespace quarterturn::body;
using media::ClipInfo;
using media::Image;
using media::Picture;

namespace {

constexpr int width = 96;
constexpr int height = 64;

/// A smooth picture without any symmetry, so that every wrong turn shows.
double level(int plane, double x, double y) {
    if (plane == 0) return 60 + 100 * x + 40 * y + 20 * std::sin(6 * x * y);
    return plane == 1 ? 100 + 60 * x * y : 160 - 50 * x + 20 * y;
}

template <class Sample>
Picture picture(int bits) {
    auto storage = std::make_shared<std::vector<Sample>>(width * height * 3 / 2);
    Picture made;
    made.width = width;
    made.height = height;
    made.bits = bits;
    std::size_t at = 0;
    for (int p = 0; p < 3; ++p) {
        const int w = p == 0 ? width : width / 2;
        const int h = p == 0 ? height : height / 2;
        made.planes[static_cast<std::size_t>(p)] = {reinterpret_cast<const std::uint8_t*>(storage->data() + at),
                                                    static_cast<int>(static_cast<std::size_t>(w) * sizeof(Sample)), w,
                                                    h};
        for (int y = 0; y < h; ++y) {
            for (int x = 0; x < w; ++x) {
                const double value = level(p, (x + 0.5) / w, (y + 0.5) / h) * (1 << (bits - 8));
                (*storage)[at++] = static_cast<Sample>(std::lround(value));
            }
        }
    }
    made.storage = storage;
    return made;
}

ClipInfo info(int rotation_deg, bool flipped) {
    ClipInfo made;
    made.width = width;
    made.height = height;
    made.rotation_deg = rotation_deg;
    made.flipped = flipped;
    return made;
}

std::vector<float> cropped(const PictureView& view, const Region& region, Border border = Border::repeat) {
    std::vector<float> rgb(64 * 64 * 3);
    view.crop(region, 64, border, 0, 1, rgb);
    return rgb;
}

double largest_difference(const std::vector<float>& a, const std::vector<float>& b) {
    double most = 0;
    for (std::size_t i = 0; i < a.size(); ++i)
        most = std::max(most, std::abs(static_cast<double>(a[i]) - static_cast<double>(b[i])));
    return most;
}

}  // namespace

TEST_CASE("a cut from the decoder's planes is the cut from the upright RGB picture, however the film is turned") {
    const Picture stored = picture<std::uint8_t>(8);
    for (const int rotation : {0, 90, -90, 180}) {
        for (const bool flipped : {false, true}) {
            CAPTURE(rotation);
            CAPTURE(flipped);
            const ClipInfo clip = info(rotation, flipped);
            const auto upright = media::to_rgb(stored, clip);
            REQUIRE(upright);
            const PictureView from_planes{stored, clip};
            const PictureView from_rgb{*upright};
            CHECK(from_planes.width() == upright->width);
            CHECK(from_planes.height() == upright->height);
            for (const double turn : {0.0, 0.4, -2.0}) {
                const Region region{{upright->width * 0.5, upright->height * 0.45}, 40, turn};
                // Rounding to whole levels twice, and colour read for four pixels at once.
                CHECK(largest_difference(cropped(from_planes, region), cropped(from_rgb, region)) < 0.02);
            }
        }
    }
}

TEST_CASE("ten-bit pictures give the same cut as eight-bit ones") {
    const Picture eight = picture<std::uint8_t>(8);
    const Picture ten = picture<std::uint16_t>(10);
    const ClipInfo clip = info(0, false);
    const Region region{{48, 32}, 50, 0.1};
    CHECK(largest_difference(cropped(PictureView{eight, clip}, region), cropped(PictureView{ten, clip}, region)) <
          0.01);
}

TEST_CASE("an untouched cut gives the pixels themselves") {
    Image image{64, 64, 3, {}};
    for (int i = 0; i < 64 * 64 * 3; ++i) image.samples.push_back(static_cast<std::uint8_t>(i * 37 % 256));
    const auto rgb = cropped(PictureView{image}, Region{{32, 32}, 64, 0});
    for (std::size_t i = 0; i < rgb.size(); ++i)
        REQUIRE(rgb[i] * 255 == doctest::Approx(image.samples[i]).epsilon(1e-4));
}

TEST_CASE("outside the picture its edge is repeated, or black") {
    const Image image{10, 10, 3, std::vector<std::uint8_t>(300, 200)};
    const Region region{{10, 10}, 20, 0};  // only the upper left quarter is inside
    const auto repeated = cropped(PictureView{image}, region);
    CHECK(*std::min_element(repeated.begin(), repeated.end()) > 0.78F);
    const auto black = cropped(PictureView{image}, region, Border::black);
    CHECK(black[0] > 0.78F);
    CHECK(black[(10 * 64 + 40) * 3] == 0);
    CHECK(black[(40 * 64 + 10) * 3] == 0);
    CHECK(black.back() == 0);
}

TEST_CASE("a region far outside or huge is harmless") {
    const Picture stored = picture<std::uint8_t>(8);
    const PictureView view{stored, info(0, false)};
    for (const Region& region : {Region{{-1e6, 1e6}, 50, 1}, Region{{0, 0}, 1e5, 3}, Region{{48, 32}, 1e-3, 0}}) {
        const auto rgb = cropped(view, region);
        CHECK(std::all_of(rgb.begin(), rgb.end(), [](float value) { return value >= 0 && value <= 1; }));
    }
}

TEST_CASE("a high dynamic range picture is cut as it looks on a standard screen") {
    for (const media::Transfer transfer : {media::Transfer::hlg, media::Transfer::pq}) {
        Picture stored = picture<std::uint16_t>(10);
        stored.colour = {media::Matrix::bt2020, media::Range::limited, transfer};
        const ClipInfo clip = info(-90, false);
        const auto upright = media::to_rgb(stored, clip);
        REQUIRE(upright);
        const Region region{{upright->width * 0.5, upright->height * 0.45}, 40, 0.4};
        const auto shown = cropped(PictureView{stored, clip}, region);
        const auto wanted = cropped(PictureView{*upright}, region);
        double sum = 0;
        for (std::size_t i = 0; i < shown.size(); ++i)
            sum += std::abs(static_cast<double>(shown[i]) - static_cast<double>(wanted[i]));
        // The curve is bent, so cutting before it is not quite cutting after it; without it the mean is off by 0.15.
        CHECK(sum / static_cast<double>(shown.size()) < 0.012);
    }
}

TEST_CASE("the reduced grey picture is upright") {
    const Picture stored = picture<std::uint8_t>(8);
    for (const int rotation : {0, 90, -90, 180}) {
        const ClipInfo clip = info(rotation, rotation == 90);
        const auto upright = media::to_grey(stored, clip);
        REQUIRE(upright);
        const cv::Mat grey = PictureView{stored, clip}.reduced_grey(48);
        REQUIRE(grey.cols == upright->width / 2);
        REQUIRE(grey.rows == upright->height / 2);
        for (int y = 1; y < grey.rows; y += 7)
            for (int x = 1; x < grey.cols; x += 5) {
                const int luma =
                    upright->samples[static_cast<std::size_t>(2 * y * upright->width + 2 * x)] * 219 / 255 + 16;
                CHECK(std::abs(grey.at<std::uint8_t>(y, x) - luma) < 6);
            }
    }
}

TEST_CASE("a grey cut is the grey of the coloured one, for any part of it") {
    // Outside check: OpenCV's conversion (ITU-R BT.601).
    const Picture stored = picture<std::uint8_t>(8);
    const PictureView view{stored, info(-90, false)};
    constexpr int pixels = 64;
    const Region region{{view.width() * 0.5, view.height() * 0.45}, 60, 0.3};
    std::vector<float> rgb(pixels * pixels * 3);
    view.crop(region, pixels, Border::repeat, 0, 255, rgb);
    cv::Mat expected;
    cv::cvtColor(cv::Mat(pixels, pixels, CV_32FC3, rgb.data()), expected, cv::COLOR_RGB2GRAY);
    for (const cv::Size part : {cv::Size(pixels, pixels), cv::Size(37, 51), cv::Size(3, 64)}) {
        CAPTURE(part.width);
        cv::Mat grey;
        view.grey(region, pixels, part).convertTo(grey, CV_32F);
        REQUIRE(grey.size() == part);
        CHECK(cv::norm(grey, expected(cv::Rect({0, 0}, part)), cv::NORM_INF) < 0.51);
    }
}
