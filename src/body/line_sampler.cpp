#include "body/line_sampler.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <type_traits>
#include <utility>

namespace quarterturn::body {
namespace {

constexpr int fraction_bits = 16;
constexpr int one = 1 << fraction_bits;
// Four neighbours weighted with 1/64 each way fit in 32 bits for 8 and for 10 bit samples.
constexpr std::uint32_t whole = 64;
constexpr int drop = fraction_bits - 6;

std::int64_t fixed(double value) {
    return static_cast<std::int64_t>(std::llround(std::clamp(value, -16000.0, 16000.0) * one));
}

template <class Sample>
std::uint32_t sample_at(const std::uint8_t* row, std::ptrdiff_t index) {
    Sample value{};
    std::memcpy(&value, row + index * static_cast<std::ptrdiff_t>(sizeof(Sample)), sizeof(Sample));
    return value;
}

std::uint32_t part(std::int64_t position) {
    return static_cast<std::uint32_t>(position >> drop) % whole;
}

float level(std::uint32_t weighted) {
    return static_cast<float>(static_cast<std::int32_t>(weighted)) * (1.0F / (whole * whole));
}

/// Neighbours of which none lies outside, one sample apart in memory: both of a row are read and weighted at once, in
/// two halves of a word.
template <class Sample>
void sample_packed(const Grid& grid, Line line, std::ptrdiff_t ahead, std::span<float> out) {
    using Pair = std::conditional_t<sizeof(Sample) == 1, std::uint16_t, std::uint32_t>;
    using Halves = std::conditional_t<sizeof(Sample) == 1, std::uint32_t, std::uint64_t>;
    constexpr int bits = 8 * sizeof(Sample), half = 2 * bits;
    constexpr Halves low = (Halves{1} << bits) - 1, lower_half = (Halves{1} << half) - 1;
    const auto halves_at = [](const std::uint8_t* at) {
        Pair pair{};
        std::memcpy(&pair, at, sizeof pair);
        const auto both = static_cast<Halves>(pair);
        return (both & low) | (both >> bits) << half;
    };
    for (float& value : out) {
        const std::uint8_t* upper = grid.data + (line.y >> fraction_bits) * grid.stride +
                                    (line.x >> fraction_bits) * static_cast<std::ptrdiff_t>(sizeof(Sample));
        const std::uint32_t fx = part(line.x), fy = part(line.y);
        // A picture just decoded is no longer near the processor, and a small picture of it touches each line but once.
        __builtin_prefetch(upper + ahead);
        __builtin_prefetch(upper + ahead + grid.stride);
        const Halves rows = halves_at(upper) * (whole - fy) + halves_at(upper + grid.stride) * fy;
        value = level(static_cast<std::uint32_t>(rows & lower_half) * (whole - fx) +
                      static_cast<std::uint32_t>(rows >> half) * fx);
        line.x += line.step_x;
        line.y += line.step_y;
    }
}

/// The same for samples further apart.
template <class Sample>
void sample_spread(const Grid& grid, Line line, std::span<float> out) {
    for (float& value : out) {
        const std::uint8_t* upper = grid.data + (line.y >> fraction_bits) * grid.stride;
        const std::uint8_t* lower = upper + grid.stride;
        const std::ptrdiff_t here = (line.x >> fraction_bits) * grid.step, next = here + grid.step;
        const std::uint32_t fx = part(line.x), fy = part(line.y);
        const std::uint32_t left = sample_at<Sample>(upper, here) * (whole - fy) + sample_at<Sample>(lower, here) * fy;
        const std::uint32_t right = sample_at<Sample>(upper, next) * (whole - fy) + sample_at<Sample>(lower, next) * fy;
        value = level(left * (whole - fx) + right * fx);
        line.x += line.step_x;
        line.y += line.step_y;
    }
}

/// Beside the plane all the way: along one edge of it, from whose corner `edge` the samples lie `apart` bytes, `extent`
/// of them; the position along it begins at `at`.
template <class Sample>
void sample_edge(const std::uint8_t* edge, std::ptrdiff_t apart, int extent, std::int64_t at, std::int64_t step,
                 std::span<float> out) {
    for (float& value : out) {
        const std::int64_t first = at >> fraction_bits;
        const std::int64_t last = extent - 1;
        const std::uint32_t share = part(at);
        const std::uint32_t here = sample_at<Sample>(edge + std::clamp<std::int64_t>(first, 0, last) * apart, 0);
        const std::uint32_t next = sample_at<Sample>(edge + std::clamp<std::int64_t>(first + 1, 0, last) * apart, 0);
        value = level((here * (whole - share) + next * share) * whole);
        at += step;
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

/// A stretch that lies beside the plane all the way; `aside`: to its left or right, else above or below.
template <class Sample>
void sample_outside(const Grid& grid, const Line& line, bool aside, std::span<float> out) {
    const std::ptrdiff_t across = grid.step * static_cast<std::ptrdiff_t>(sizeof(Sample));
    if (aside) {
        const std::uint8_t* edge = grid.data + (line.x < 0 ? 0 : (grid.width - 1) * across);
        return sample_edge<Sample>(edge, grid.stride, grid.height, line.y, line.step_y, out);
    }
    const std::uint8_t* edge = grid.data + (line.y < 0 ? 0 : (grid.height - 1) * grid.stride);
    sample_edge<Sample>(edge, across, grid.width, line.x, line.step_x, out);
}

}  // namespace

Line::Line(double at_x, double at_y, double along_x, double along_y)
    : x(fixed(at_x)), y(fixed(at_y)), step_x(fixed(along_x)), step_y(fixed(along_y)) {}

Line Line::after(int count) const {
    Line later = *this;
    later.x += count * step_x;
    later.y += count * step_y;
    return later;
}

template <class Sample>
void sample_line(const Grid& grid, const Line& line, std::ptrdiff_t ahead, std::span<float> out) {
    const int count = static_cast<int>(out.size());
    const auto across = inside_steps(line.x, line.step_x, grid.width, count);
    const auto down = inside_steps(line.y, line.step_y, grid.height, count);
    const int first = std::min(std::max(across.first, down.first), count);
    const int last = std::max(first, std::min(across.second, down.second));
    const auto piece = [&](int from, int to) {
        return out.subspan(static_cast<std::size_t>(from), static_cast<std::size_t>(to - from));
    };
    // Whichever way the line comes in last, it has been outside that way all along; likewise when it goes out.
    sample_outside<Sample>(grid, line, across.first >= first, piece(0, first));
    if (grid.step == 1)
        sample_packed<Sample>(grid, line.after(first), ahead, piece(first, last));
    else
        sample_spread<Sample>(grid, line.after(first), piece(first, last));
    sample_outside<Sample>(grid, line.after(last), across.second <= last, piece(last, count));
}

template void sample_line<std::uint8_t>(const Grid&, const Line&, std::ptrdiff_t, std::span<float>);
template void sample_line<std::uint16_t>(const Grid&, const Line&, std::ptrdiff_t, std::span<float>);

}  // namespace quarterturn::body
