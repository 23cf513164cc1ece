#include "body/step_flow.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/core/hal/intrin.hpp>
#include <opencv2/imgproc.hpp>

namespace quarterturn::body {
namespace {

/// Sums over one cell: gradient products, gradient times difference, difference squared.
struct Sums {
    float xx = 0, xy = 0, yy = 0, xt = 0, yt = 0, tt = 0;

    void add(const Sums& other) {
        xx += other.xx;
        xy += other.xy;
        yy += other.yy;
        xt += other.xt;
        yt += other.yt;
        tt += other.tt;
    }
    /// Squared difference left when the cell has moved by v.
    [[nodiscard]] float left_after(const cv::Vec2f& v) const {
        return std::max(0.0F,
                        tt + 2 * (v[0] * xt + v[1] * yt) + v[0] * v[0] * xx + 2 * v[0] * v[1] * xy + v[1] * v[1] * yy);
    }
    [[nodiscard]] cv::Vec2f solve(float ridge) const {
        const float a = xx + ridge;
        const float d = yy + ridge;
        const float det = a * d - xy * xy;
        if (!(det > 0)) return {0, 0};
        return {(xy * yt - d * xt) / det, (xy * xt - a * yt) / det};
    }
};

struct CellGrid {
    int columns = 0, rows = 0;
    std::vector<Sums> cells;
};

/// Rows of a prepared picture around y.
struct Rows {
    const short *here, *above, *below;
    Rows(const cv::Mat& picture, int y)
        : here(picture.ptr<short>(y)),
          above(picture.ptr<short>(std::max(0, y - 1))),
          below(picture.ptr<short>(std::min(picture.rows - 1, y + 1))) {}
};

/// The six sums of two neighbouring cells, as pairs of pixels: lanes 0, 1 belong to the left cell, 2, 3 to the right.
struct PairSums {
    std::array<cv::v_int32x4, 6> pairs;
    PairSums() { pairs.fill(cv::v_setzero_s32()); }

    /// Eight pixels from x on. Whole numbers: a slope here is 64 times the slope in grey levels (16 from the smoothing,
    /// 2 from the distance of two pixels, 2 from the two pictures), a difference 16 times; four rows stay below 2^31.
    void add(const Rows& a, const Rows& b, int x) {
        const auto at = [x](const short* row, int dx) { return cv::v_load(row + x + dx); };
        const cv::v_int16x8 gx = (at(a.here, 1) - at(a.here, -1)) + (at(b.here, 1) - at(b.here, -1));
        const cv::v_int16x8 gy = (at(a.below, 0) - at(a.above, 0)) + (at(b.below, 0) - at(b.above, 0));
        const cv::v_int16x8 gt = at(b.here, 0) - at(a.here, 0);
        pairs[0] += cv::v_dotprod(gx, gx);
        pairs[1] += cv::v_dotprod(gx, gy);
        pairs[2] += cv::v_dotprod(gy, gy);
        pairs[3] += cv::v_dotprod(gx, gt);
        pairs[4] += cv::v_dotprod(gy, gt);
        pairs[5] += cv::v_dotprod(gt, gt);
    }

    void write(Sums& left, Sums& right) const {
        constexpr float slope = 1.0F / 64;
        constexpr float difference = 1.0F / 16;
        constexpr std::array<float, 6> scale{slope * slope,      slope * slope,      slope * slope,
                                             slope * difference, slope * difference, difference * difference};
        std::array<std::array<float, 2>, 6> sums{};
        for (std::size_t k = 0; k < 6; ++k) {
            int lanes[4];
            cv::v_store(lanes, pairs[k]);
            sums[k] = {scale[k] * static_cast<float>(lanes[0] + lanes[1]),
                       scale[k] * static_cast<float>(lanes[2] + lanes[3])};
        }
        left = {sums[0][0], sums[1][0], sums[2][0], sums[3][0], sums[4][0], sums[5][0]};
        right = {sums[0][1], sums[1][1], sums[2][1], sums[3][1], sums[4][1], sums[5][1]};
    }
};

/// Cells begin one pixel in, where every pixel has neighbours; an odd last cell of a row is left out.
CellGrid sums_of(const cv::Mat& a, const cv::Mat& b) {
    CellGrid grid{(a.cols - 2) / (2 * cell_px) * 2, a.rows / cell_px, {}};
    grid.cells.resize(static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows));
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; column += 2) {
            PairSums sums;
            for (int y = row * cell_px; y < (row + 1) * cell_px; ++y)
                sums.add(Rows(a, y), Rows(b, y), 1 + column * cell_px);
            const auto at = static_cast<std::size_t>(row * grid.columns + column);
            sums.write(grid.cells[at], grid.cells[at + 1]);
        }
    return grid;
}

float middle_of(std::vector<float>& values, double share) {
    if (values.empty()) return 0;
    const auto at = static_cast<std::size_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(at), values.end());
    return values[at];
}

/// Noise power per pixel of what is left when the whole picture has moved by `shake`: most of the picture does nothing
/// else.
float noise_power(const CellGrid& grid, const cv::Vec2f& shake) {
    constexpr std::size_t every = 5;  // a few hundred cells tell the median well enough
    std::vector<float> left;
    left.reserve(grid.cells.size() / every + 1);
    for (std::size_t i = 0; i < grid.cells.size(); i += every) left.push_back(grid.cells[i].left_after(shake));
    return std::max(0.01F, middle_of(left, 0.5) / (cell_px * cell_px));
}

/// Movement common to the picture: least squares over all cells, again with the cells that do not agree held back.
cv::Vec2f common_movement(const CellGrid& grid) {
    cv::Vec2f shake(0, 0);
    for (int round = 0; round < 4; ++round) {
        const float allowed = 3 * cell_px * cell_px * noise_power(grid, shake);
        Sums all;
        for (const Sums& cell : grid.cells) {
            const float beyond = cell.left_after(shake) / allowed;
            const float weight = 1 / (1 + beyond * beyond);
            all.add({weight * cell.xx, weight * cell.xy, weight * cell.yy, weight * cell.xt, weight * cell.yt, 0});
        }
        const cv::Vec2f last = shake;
        shake = all.solve(1e-3F * (all.xx + all.yy) + 1);
        if (cv::norm(shake - last, cv::NORM_INF) < 0.005) break;
    }
    return shake;
}

cv::Mat moved_back(const cv::Mat& picture, const cv::Vec2f& by) {
    const cv::Matx23f shift(1, 0, by[0], 0, 1, by[1]);
    cv::Mat out;
    cv::warpAffine(picture, out, shift, picture.size(), cv::INTER_LINEAR | cv::WARP_INVERSE_MAP, cv::BORDER_REPLICATE);
    return out;
}

/// Brightness of `a` over that of `b`: median over a coarse grid, so that a moving person does not count.
float gain_between(const cv::Mat& a, const cv::Mat& b) {
    constexpr short dark = 16 * 16;
    std::vector<float> ratios;
    for (int y = 2; y + 1 < a.rows; y += 6)
        for (int x = 2; x + 1 < a.cols; x += 6)
            if (a.at<short>(y, x) > dark && b.at<short>(y, x) > dark)
                ratios.push_back(static_cast<float>(a.at<short>(y, x)) / static_cast<float>(b.at<short>(y, x)));
    return ratios.size() < 50 ? 1 : middle_of(ratios, 0.5);
}

/// Sums of each cell with its left and right neighbour, row by row.
std::vector<Sums> across(const CellGrid& grid) {
    std::vector<Sums> out(grid.cells);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const std::size_t column = i % static_cast<std::size_t>(grid.columns);
        if (column > 0) out[i].add(grid.cells[i - 1]);
        if (column + 1 < static_cast<std::size_t>(grid.columns)) out[i].add(grid.cells[i + 1]);
    }
    return out;
}

StepFlow flow_of(const CellGrid& grid, const cv::Vec2f& shake) {
    const float power = noise_power(grid, shake);
    // Noise makes slopes too: about a tenth of the power of its differences, per pixel of the neighbourhood.
    const float ridge = 1.0F * 9 * cell_px * cell_px * power;
    StepFlow out{grid.columns, grid.rows, {}, shake, std::sqrt(power), 0};
    out.flow.reserve(grid.cells.size());
    const std::vector<Sums> wide = across(grid);
    const auto columns = static_cast<std::size_t>(grid.columns);
    for (std::size_t i = 0; i < wide.size(); ++i) {
        Sums sums = wide[i];
        if (i >= columns) sums.add(wide[i - columns]);
        if (i + columns < wide.size()) sums.add(wide[i + columns]);
        sums.xt += shake[0] * sums.xx + shake[1] * sums.xy;
        sums.yt += shake[0] * sums.xy + shake[1] * sums.yy;
        out.flow.push_back(sums.solve(ridge));
    }
    for (const Sums& cell : grid.cells)
        out.energy += std::max(0.0F, std::sqrt(cell.left_after(shake)) / cell_px - 2 * out.noise);
    out.energy /= static_cast<float>(std::max<std::size_t>(1, grid.cells.size()));
    return out;
}

}  // namespace

cv::Mat prepare_picture(const cv::Mat& grey) {
    static const cv::Matx31f kernel(1, 2, 1);
    cv::Mat out;
    cv::sepFilter2D(grey, out, CV_16S, kernel, kernel);
    return out;
}

StepFlow flow_between(const cv::Mat& before, const cv::Mat& after) {
    cv::Mat level = after;
    const float gain = gain_between(before, after);
    // A drift slower than this from one step to the next is below the noise.
    if (std::abs(gain - 1) > 0.002F) after.convertTo(level, CV_16S, static_cast<double>(gain));
    CellGrid grid = sums_of(before, level);
    cv::Vec2f shake = common_movement(grid);
    cv::Vec2f removed(0, 0);
    // A larger shake bends the picture out of the method's reach: move the picture back and measure what is left.
    for (int round = 0; round < 3 && std::hypot(shake[0] - removed[0], shake[1] - removed[1]) > 0.3F; ++round) {
        removed = shake;
        grid = sums_of(before, moved_back(level, removed));
        shake = removed + common_movement(grid);
    }
    StepFlow out = flow_of(grid, shake - removed);
    out.shake = shake;
    return out;
}

}  // namespace quarterturn::body
