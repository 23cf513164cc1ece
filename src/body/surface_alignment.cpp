#include "body/surface_alignment.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

namespace quarterturn::body {
namespace {

enum Unknown { tx, ty, phi, size, psi, brightness };

constexpr double blur_px = 1;  // of the kept picture: its finest grain is noise of the camera
constexpr int every = 2;       // row and column: what lies between tells little more after that blur
// Of all that the pixels say across the picture. The outline is known to about half a pixel, a degree of twist: a
// heavier tie hands that on, a lighter one lets the shading of smooth skin pull the turn towards nothing.
constexpr double tie_share = 0.03;
constexpr std::size_t fewest_spots = 40;
constexpr int most_rounds = 12;
constexpr double converged_px = 0.02;
// Huber's limit. The wider usual limit of three standard deviations: shading that travels is no outlier in number, and
// what is well followed must not be weighted down beside it.
constexpr double huber_deviations = 3, least_scatter = 0.3;  // grey levels
constexpr double furthest_turn = 0.6;                        // radians

cv::Mat smoothed(const PackedGrey& packed) {
    cv::Mat out;
    packed.unpacked().convertTo(out, CV_32F);
    cv::GaussianBlur(out, out, {5, 5}, blur_px);
    return out;
}

double sampled(const cv::Mat& grey, double x, double y) {
    // Before the cast: a step that goes astray may ask for anything.
    if (!(x >= 0 && y >= 0 && x < grey.cols - 1 && y < grey.rows - 1)) return std::numeric_limits<double>::quiet_NaN();
    const int x0 = static_cast<int>(x), y0 = static_cast<int>(y);
    const double u = x - x0, v = y - y0;
    const float *upper = grey.ptr<float>(y0) + x0, *lower = grey.ptr<float>(y0 + 1) + x0;
    const auto between = [u](const float* row) {
        return static_cast<double>(row[0]) * (1 - u) + static_cast<double>(row[1]) * u;
    };
    return between(upper) * (1 - v) + between(lower) * v;
}

/// The limit for Huber's weights, told by the median; absent where too little is in sight.
std::optional<double> limit_of(const std::vector<double>& left) {
    std::vector<double> sizes;
    for (const double value : left)
        if (std::isfinite(value)) sizes.push_back(std::abs(value));
    if (sizes.size() < fewest_spots || 2 * sizes.size() < left.size()) return std::nullopt;
    const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
    std::nth_element(sizes.begin(), middle, sizes.end());
    return huber_deviations * std::max(least_scatter, 1.4826 * *middle);
}

}  // namespace

SurfaceAlignment::SurfaceAlignment(const TorsoPicture& reference, const cv::Mat& where, const BandShape& shape)
    : step_(reference.step), origin_(reference.origin) {
    const cv::Mat grey = smoothed(reference.grey);
    cv::Mat across, down;
    cv::Sobel(grey, across, CV_32F, 1, 0, 3, 1.0 / 8);
    cv::Sobel(grey, down, CV_32F, 0, 1, 3, 1.0 / 8);
    for (int row = 0; row < where.rows; row += every) {
        for (int column = 0; column < where.cols; column += every) {
            if (where.at<unsigned char>(row, column) == 0) continue;
            Spot spot;
            spot.x = origin_.x + (column + 0.5) * step_ - shape.centre.x;
            spot.y = origin_.y + (row + 0.5) * step_ - shape.centre.y;
            const auto nearer = shape.section.nearer(spot.x);
            if (!nearer) continue;
            spot.nearer = *nearer + shape.ahead;
            spot.slope_x = static_cast<double>(across.at<float>(row, column)) / step_;
            spot.slope_y = static_cast<double>(down.at<float>(row, column)) / step_;
            spot.grey = static_cast<double>(grey.at<float>(row, column));
            spot.column = column;
            spot.row = row;
            deepest_ = std::max(deepest_, spot.nearer);
            tie_weight_ += tie_share * spot.slope_x * spot.slope_x;
            spots_.push_back(spot);
        }
    }
}

std::vector<double> SurfaceAlignment::left_in(const cv::Mat& grey, const Solution& now, Point offset) const {
    std::vector<double> left;
    left.reserve(spots_.size());
    const double sine = std::sin(now[psi]), less = std::cos(now[psi]) - 1;
    for (const Spot& spot : spots_) {
        const double dx = now[tx] - now[phi] * spot.y + now[size] * spot.x + spot.nearer * sine + spot.x * less;
        const double dy = now[ty] + now[phi] * spot.x + now[size] * spot.y;
        const double found = sampled(grey, spot.column + (dx + offset.x) / step_, spot.row + (dy + offset.y) / step_);
        left.push_back(spot.grey + now[brightness] - found);
    }
    return left;
}

std::optional<SurfaceAlignment::Solution> SurfaceAlignment::step(const std::vector<double>& left, const Solution& now,
                                                                 const OutlineShift& outline) const {
    const auto limit = limit_of(left);
    if (!limit) return std::nullopt;
    cv::Matx<double, unknowns, unknowns> square = cv::Matx<double, unknowns, unknowns>::zeros();
    Solution right = Solution::all(0);
    const auto add = [&](const std::array<double, unknowns>& slope, double missing, double weight) {
        for (int i = 0; i < unknowns; ++i) {
            const double weighted = weight * slope[static_cast<std::size_t>(i)];
            for (int j = 0; j <= i; ++j) square(i, j) += weighted * slope[static_cast<std::size_t>(j)];
            right[i] += weighted * missing;
        }
    };
    const double sine = std::sin(now[psi]), cosine = std::cos(now[psi]);
    for (std::size_t i = 0; i < spots_.size(); ++i) {
        if (!std::isfinite(left[i])) continue;
        const Spot& s = spots_[i];
        const double miss = std::abs(left[i]);
        add({s.slope_x, s.slope_y, s.slope_y * s.x - s.slope_x * s.y, s.slope_x * s.x + s.slope_y * s.y,
             s.slope_x * (s.nearer * cosine - s.x * sine), -1},
            left[i], miss <= *limit ? 1 : *limit / miss);
    }
    add({1, 0, -outline.y, 0, 0, 0}, outline.shift - (now[tx] - now[phi] * outline.y), tie_weight_);
    for (int i = 0; i < unknowns; ++i)
        for (int j = 0; j < i; ++j) square(j, i) = square(i, j);
    Solution out;
    if (!cv::solve(square, right, out, cv::DECOMP_CHOLESKY)) return std::nullopt;
    return out;
}

std::optional<double> SurfaceAlignment::turn_in(const TorsoPicture& picture, const OutlineShift& outline) const {
    if (spots_.size() < fewest_spots || picture.step != step_) return std::nullopt;
    const cv::Mat grey = smoothed(picture.grey);
    const Point offset{origin_.x - picture.origin.x, origin_.y - picture.origin.y};
    Solution now = Solution::all(0);
    now[tx] = outline.shift;
    now[ty] = outline.surface.y;
    now[psi] = std::clamp((outline.surface.x - outline.shift) / deepest_, -furthest_turn, furthest_turn);
    for (int round = 0; round < most_rounds; ++round) {
        const auto change = step(left_in(grey, now, offset), now, outline);
        if (!change) return std::nullopt;
        now += *change;
        const double moved = std::hypot((*change)[tx], (*change)[ty]);
        if (moved < converged_px && std::abs((*change)[psi]) * deepest_ < converged_px) break;
    }
    if (!std::isfinite(now[psi]) || std::abs(now[psi]) > furthest_turn) return std::nullopt;
    return now[psi];
}

}  // namespace quarterturn::body
