#pragma once
/// How the parts of one reduced picture moved until the next: a coarse grid of displacements with the camera's own
/// shake taken out.
///
/// Gradient method (Lucas and Kanade 1981) on one level: per cell of 4 x 4 pixels the sums of the gradient products,
/// over a neighbourhood of 3 x 3 cells a least-squares displacement with a ridge that holds back where there is nothing
/// but sensor noise. At an edge it gives the part of the movement across it. Displacements of up to about 2 pixels are
/// measured, larger ones are too small but stay large.
#include <cstdint>
#include <opencv2/core.hpp>
#include <vector>

namespace quarterturn::body {

inline constexpr int cell_px = 4;

/// Displacements in pixels of the reduced picture.
struct StepFlow {
    int columns = 0, rows = 0;    ///< cells
    std::vector<cv::Vec2f> flow;  ///< row by row, camera shake removed
    cv::Vec2f shake;              ///< what the whole picture moved
    float noise = 0;              ///< RMS of the differences that noise alone makes, grey levels
    float energy = 0;             ///< mean absolute difference above the noise, grey levels
};

/// Prepares a grey picture (8 bit): smoothed with 1 2 1 both ways, so that its slopes reach over the movement looked
/// for, 16 steps to a grey level.
[[nodiscard]] cv::Mat prepare_picture(const cv::Mat& grey);

/// @param before, after  prepared pictures of one size, at least 3 x 3 cells
[[nodiscard]] StepFlow flow_between(const cv::Mat& before, const cv::Mat& after);

}  // namespace quarterturn::body
