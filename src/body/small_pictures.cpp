#include "body/small_pictures.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <opencv2/core/hal/intrin.hpp>
#include <vector>

namespace quarterturn::body {
namespace {

using Sums = std::vector<std::uint16_t>;

// Eight at a time by OpenCV's vectors, as compilers leave such loops alone at -O2; then what is left.
template <class Sample>
void add_row(const Sample* row, std::size_t count, std::uint16_t* sums) {
    std::size_t i = 0;
    for (; i + 8 <= count; i += 8) {
        cv::v_uint16x8 more;
        if constexpr (sizeof(Sample) == 1)
            more = cv::v_load_expand(row + i);
        else
            more = cv::v_load(row + i);
        cv::v_store(sums + i, cv::v_load(sums + i) + more);
    }
    for (; i < count; ++i) sums[i] = static_cast<std::uint16_t>(sums[i] + row[i]);
}

void add_pairs(const std::uint16_t* from, std::size_t count, std::uint16_t* to) {
    std::size_t i = 0;
    for (; i + 8 <= count; i += 8) {
        cv::v_uint16x8 even, odd;
        cv::v_load_deinterleave(from + 2 * i, even, odd);
        cv::v_store(to + i, even + odd);
    }
    for (; i < count; ++i) to[i] = static_cast<std::uint16_t>(from[2 * i] + from[2 * i + 1]);
}

template <class Sample>
cv::Mat reduced_from(const cv::Mat& grey, int by) {
    // Of the sum of a block, in whichever unit, to 8 bit.
    const std::uint32_t divisor = static_cast<std::uint32_t>(by * by) * (sizeof(Sample) == 1 ? 1U : 4U);
    const int shift = std::countr_zero(divisor) % 32;
    const std::uint32_t half = divisor / 2;
    cv::Mat out(grey.rows / by, grey.cols / by, CV_8U);
    const auto width = static_cast<std::size_t>(grey.cols);
    Sums sums(width), halves(width);
    for (int y = 0; y < out.rows; ++y) {
        std::fill(sums.begin(), sums.end(), std::uint16_t{0});
        for (int i = 0; i < by; ++i) add_row(grey.ptr<Sample>(y * by + i), width, sums.data());
        std::size_t count = width;
        for (int left = by; left > 1; left /= 2) {
            count /= 2;
            add_pairs(sums.data(), count, halves.data());
            sums.swap(halves);
        }
        auto* to = out.ptr<std::uint8_t>(y);
        const std::uint16_t* sum = sums.data();
        for (std::size_t i = 0; i < static_cast<std::size_t>(out.cols); ++i)
            to[i] = static_cast<std::uint8_t>(std::min((sum[i] + half) >> shift, 255U));
    }
    return out;
}

// OpenCV's weights of 0.239, 0.522 and 0.239, in 1/256.
constexpr std::uint32_t beside = 61, centre = 134;

void smooth_across(const std::uint8_t* row, std::size_t count, std::uint16_t* to) {
    const auto weighted = [&](std::size_t left, std::size_t here, std::size_t right) {
        return static_cast<std::uint16_t>(beside * (row[left] + std::uint32_t{row[right]}) + centre * row[here]);
    };
    const std::size_t last = count - 1;
    to[0] = weighted(0, 0, std::min<std::size_t>(1, last));
    for (std::size_t i = 1; i < last; ++i) to[i] = weighted(i - 1, i, i + 1);
    to[last] = weighted(last > 0 ? last - 1 : 0, last, last);
}

void smooth_down(const std::array<const std::uint16_t*, 3>& rows, std::size_t count, std::uint8_t* to) {
    const std::uint16_t *above = rows[0], *here = rows[1], *below = rows[2];
    for (std::size_t i = 0; i < count; ++i) {
        const std::uint32_t sum = beside * (above[i] + std::uint32_t{below[i]}) + centre * here[i];
        to[i] = static_cast<std::uint8_t>((sum + (1U << 15U)) >> 16U);
    }
}

/// Mirrored about the first and the last.
int mirrored(int index, int count) {
    if (count == 1) return 0;
    while (index < 0 || index >= count) index = index < 0 ? -index : 2 * (count - 1) - index;
    return index;
}

constexpr std::size_t reach = 2;

/// 1 4 6 4 1 down.
void halve_down(const std::array<const std::uint8_t*, 5>& rows, std::size_t count, std::uint16_t* to) {
    const auto [a, b, c, d, e] = rows;
    for (std::size_t i = 0; i < count; ++i)
        to[i] = static_cast<std::uint16_t>(a[i] + 4 * (b[i] + d[i]) + 6 * c[i] + e[i]);
}

/// 1 4 6 4 1 across, every other pixel.
void halve_across(const std::uint16_t* from, std::size_t count, std::uint8_t* to) {
    for (std::size_t i = 0; i < count; ++i) {
        const std::uint16_t* at = from + 2 * i;
        to[i] = static_cast<std::uint8_t>((at[0] + 4 * (at[1] + at[3]) + 6 * at[2] + at[4] + 128) >> 8);
    }
}

}  // namespace

cv::Mat reduced(const cv::Mat& grey, int by) {
    return grey.depth() == CV_8U ? reduced_from<std::uint8_t>(grey, by) : reduced_from<std::uint16_t>(grey, by);
}

cv::Mat smoothed(const cv::Mat& grey) {
    cv::Mat out(grey.size(), CV_8U);
    if (grey.empty()) return out;
    const auto width = static_cast<std::size_t>(grey.cols);
    std::array<Sums, 3> lines{Sums(width), Sums(width), Sums(width)};
    const auto line = [&](int y) { return lines[static_cast<std::size_t>(y % 3)].data(); };
    smooth_across(grey.ptr<std::uint8_t>(0), width, line(0));
    for (int y = 0; y < grey.rows; ++y) {
        const int below = std::min(y + 1, grey.rows - 1);
        if (below > y) smooth_across(grey.ptr<std::uint8_t>(below), width, line(below));
        smooth_down({line(std::max(y - 1, 0)), line(y), line(below)}, width, out.ptr<std::uint8_t>(y));
    }
    return out;
}

cv::Mat halved(const cv::Mat& grey) {
    cv::Mat out((grey.rows + 1) / 2, (grey.cols + 1) / 2, CV_8U);
    const auto width = static_cast<std::size_t>(grey.cols);
    Sums column(width + 2 * reach);
    for (int y = 0; y < out.rows; ++y) {
        std::array<const std::uint8_t*, 5> rows{};
        for (int i = 0; i < 5; ++i)
            rows[static_cast<std::size_t>(i)] = grey.ptr<std::uint8_t>(mirrored(2 * y + i - 2, grey.rows));
        halve_down(rows, width, column.data() + reach);
        std::uint16_t* first = column.data() + reach;
        for (const int i : {-2, -1, grey.cols, grey.cols + 1}) first[i] = first[mirrored(i, grey.cols)];
        halve_across(column.data(), static_cast<std::size_t>(out.cols), out.ptr<std::uint8_t>(y));
    }
    return out;
}

}  // namespace quarterturn::body
