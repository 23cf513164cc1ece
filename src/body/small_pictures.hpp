#pragma once
/// Grey pictures made smaller and smoother, for pictures so small that sharing the work out over threads would cost
/// more than the work; each does what the OpenCV function of that purpose does.
#include <opencv2/core.hpp>

namespace quarterturn::body {

/// Up to here sums of whole blocks fit in 16 bits.
constexpr int largest_reduction = 8;

/// Every pixel the mean of a block of `by` x `by`, as 8 bit.
/// @param grey  8 bit, or 16 bit with 10 in use; both sides multiples of `by`
/// @param by    1, 2, 4 or 8
[[nodiscard]] cv::Mat reduced(const cv::Mat& grey, int by);

/// A Gaussian of 3 x 3 pixels with a standard deviation of 0.8 over an 8 bit picture, the edge repeated outside.
[[nodiscard]] cv::Mat smoothed(const cv::Mat& grey);

/// Half as large after smoothing with 1 4 6 4 1 both ways (Burt and Adelson 1983), the picture mirrored at its edge;
/// 8 bit. Pixel (x, y) of the result lies at (2x, 2y).
[[nodiscard]] cv::Mat halved(const cv::Mat& grey);

}  // namespace quarterturn::body
