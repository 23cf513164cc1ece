#pragma once
/// The square around a body that the landmark network looks at.
#include <optional>

namespace quarterturn::body {

struct Point {
    double x = 0;
    double y = 0;
    bool operator==(const Point&) const = default;
};

/// A turned square in the upright full picture: pixels, origin top left, y downwards, the first pixel's centre at
/// (0.5, 0.5).
struct Region {
    Point centre;
    double side = 0;       ///< pixels, > 0
    double angle_rad = 0;  ///< how far the body is turned clockwise from upright, (-pi, pi]

    bool operator==(const Region&) const = default;

    /// From the square's own coordinates (0..1 from its top left corner) to the picture, and back.
    [[nodiscard]] Point to_picture(Point inside) const;
    [[nodiscard]] Point from_picture(Point pixel) const;
};

/// The square around a body whose middle (between the hips) and whose reach (a point straight "up" from it on the
/// circle around the whole body) are known, widened by a quarter.
/// Source: Bazarevsky et al. 2020, arXiv 2006.10204, section 3.1; nullopt when the points coincide.
[[nodiscard]] std::optional<Region> region_around(Point middle, Point reach);

/// The shorter way from angle `from` to `to`, in (-pi, pi].
[[nodiscard]] double angle_between(double from_rad, double to_rad);

}  // namespace quarterturn::body
