#pragma once
/// Reads samples of one plane along a straight line, bilinear; beyond the plane its edge is repeated. The same numbers
/// as asking for every point by itself would give, but without asking each whether it lies inside. Private to this
/// room.
#include <cstddef>
#include <cstdint>
#include <span>

namespace quarterturn::body {

/// Samples of one plane; those of several planes may be packed between each other.
struct Grid {
    const std::uint8_t* data = nullptr;
    std::ptrdiff_t stride = 0;  ///< bytes between rows
    int step = 1;               ///< samples between neighbours
    int width = 0;
    int height = 0;
};

/// Positions in whole and part samples; the first sample's middle is 0.
struct Line {
    /// Far outside is taken for just outside.
    Line(double x, double y, double step_x, double step_y);
    std::int64_t x, y, step_x, step_y;  ///< 1/65536 samples

    [[nodiscard]] Line after(int count) const;
};

/// @param Sample  std::uint8_t or std::uint16_t (at most 10 bits in use)
/// @param ahead   bytes from a sample to the one of a later line that is to be fetched in advance
/// @param out     as many values as are wanted, in units of the samples; positions count to 1/64 sample
template <class Sample>
void sample_line(const Grid& grid, const Line& line, std::ptrdiff_t ahead, std::span<float> out);

}  // namespace quarterturn::body
