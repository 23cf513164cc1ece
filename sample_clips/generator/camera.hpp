#pragma once
/// The phone: where it stands, what it sees, how it trembles, and when it takes its pictures.
#include <cstdint>
#include <vector>

#include "script.hpp"

namespace quarterturn::sample {

/// A pinhole at one moment. Pixel centres are at whole numbers plus a half.
struct Camera {
    Vec place;
    Frame axes;  ///< x to the right in the picture, y up, z backwards (against the view)
    double focal_px = 800;
    double width = 432, height = 768;
    bool mirrored = false;

    struct Seen {
        double x = 0, y = 0;  ///< pixels from the upper left corner, x mirrored where the film is
        double depth = 0;     ///< metres along the view; what lies behind the phone is negative
    };
    [[nodiscard]] Seen see(Vec point) const;
};

/// The camera `t` seconds into the film, shake included.
[[nodiscard]] Camera camera_at(const Script& script, double t);

/// Ticks of 1/90000 s at which pictures are taken, first 0, strictly increasing.
[[nodiscard]] std::vector<std::int64_t> picture_times(const Script& script, double duration_s);
constexpr double ticks_per_second = 90000;

}  // namespace quarterturn::sample
