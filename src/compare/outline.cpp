#include "compare/outline.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace quarterturn::compare {
namespace {

constexpr int parts = 4;  // of a pixel, as a power of two

/// OpenCV counts from the first pixel's middle.
cv::Point fine(const body::Point& p) {
    return {static_cast<int>(std::lround((p.x - 0.5) * (1 << parts))),
            static_cast<int>(std::lround((p.y - 0.5) * (1 << parts)))};
}

}  // namespace

void draw_outline(const body::OutlinePieces& outline, media::Image& rgb) {
    cv::Mat image(rgb.height, rgb.width, CV_8UC3, rgb.samples.data());
    const int thin = std::max(1, rgb.height / 400);
    for (const auto& [colour, thickness] :
         {std::pair{cv::Scalar(20, 20, 20), thin + 2}, std::pair{cv::Scalar(255, 240, 120), thin}})
        for (const auto& [a, b] : outline) cv::line(image, fine(a), fine(b), colour, thickness, cv::LINE_AA, parts);
}

}  // namespace quarterturn::compare
