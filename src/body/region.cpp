#include "body/region.hpp"

#include <cmath>
#include <numbers>

namespace quarterturn::body {

Point Region::to_picture(Point inside) const {
    const double u = (inside.x - 0.5) * side;
    const double v = (inside.y - 0.5) * side;
    const double c = std::cos(angle_rad);
    const double s = std::sin(angle_rad);
    return {centre.x + u * c - v * s, centre.y + u * s + v * c};
}

Point Region::from_picture(Point pixel) const {
    const double dx = (pixel.x - centre.x) / side;
    const double dy = (pixel.y - centre.y) / side;
    const double c = std::cos(angle_rad);
    const double s = std::sin(angle_rad);
    return {0.5 + dx * c + dy * s, 0.5 - dx * s + dy * c};
}

double angle_between(double from_rad, double to_rad) {
    const double turns = (to_rad - from_rad) / (2 * std::numbers::pi);
    return (turns - std::ceil(turns - 0.5)) * 2 * std::numbers::pi;
}

std::optional<Region> region_around(Point middle, Point reach) {
    constexpr double margin = 1.25;
    const double dx = reach.x - middle.x;
    const double dy = reach.y - middle.y;
    const double radius = std::hypot(dx, dy);
    if (!(radius > 1e-3) || !std::isfinite(radius)) return std::nullopt;
    const double angle = angle_between(0, std::numbers::pi / 2 - std::atan2(-dy, dx));
    return Region{middle, 2 * radius * margin, angle};
}

}  // namespace quarterturn::body
