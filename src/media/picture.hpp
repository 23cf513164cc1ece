#pragma once
/// One decoded picture, planar YUV as the decoder gave it, with its colour description.
#include <array>
#include <cstdint>
#include <memory>

namespace quarterturn::media {

enum class Matrix { bt601, bt709, bt2020 };  ///< which luma weights (Kr, Kb)
enum class Range { limited, full };          ///< 16-235 or 0-255 (scaled for 10 bit)
enum class Transfer { standard, hlg, pq };   ///< HLG and PQ are ITU-R BT.2100 high dynamic range

struct Colour {
    Matrix matrix = Matrix::bt709;
    Range range = Range::limited;
    Transfer transfer = Transfer::standard;
    bool operator==(const Colour&) const = default;
};

/// Rows of samples; 8-bit samples are bytes, deeper ones little-endian 16-bit words.
struct Plane {
    const std::uint8_t* data = nullptr;
    int stride_bytes = 0;
    int width = 0;   ///< samples
    int height = 0;  ///< rows
};

/// Immutable and cheap to copy: copies share the samples, which live as long as any copy. Size and planes are as stored
/// in the file; turn by `rotation_deg` and stretch by the sample aspect of ClipInfo to show it upright.
struct Picture {
    std::int64_t pts = 0;    ///< best-effort timestamp in the stream's time base
    int width = 0;           ///< stored luma width
    int height = 0;          ///< stored luma height
    int bits = 8;            ///< per sample: 8 or 10
    int chroma_shift_x = 1;  ///< chroma width = ceil(width / 2^shift)
    int chroma_shift_y = 1;
    std::array<Plane, 3> planes;  ///< Y, Cb, Cr
    Colour colour;
    bool damaged = false;  ///< the decoder met errors in it
    std::shared_ptr<const void> storage;

    [[nodiscard]] std::size_t bytes() const {
        std::size_t total = 0;
        for (const Plane& plane : planes)
            total += static_cast<std::size_t>(plane.stride_bytes) * static_cast<std::size_t>(plane.height);
        return total;
    }
};

}  // namespace quarterturn::media
