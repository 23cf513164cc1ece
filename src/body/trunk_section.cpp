#include "body/trunk_section.hpp"

#include <cmath>
#include <numbers>

namespace quarterturn::body {
namespace {

constexpr double half_width_share = 0.42, half_depth_share = 0.32;

}  // namespace

TrunkSection TrunkSection::of(double shoulder_width_px, double yaw_deg) {
    return {half_width_share * shoulder_width_px, half_depth_share * shoulder_width_px,
            yaw_deg * std::numbers::pi / 180};
}

double TrunkSection::reach() const {
    return std::hypot(half_width * std::cos(yaw_rad), half_depth * std::sin(yaw_rad));
}

std::optional<double> TrunkSection::nearer(double x) const {
    // With z towards the camera, the body's own axes are p = x c + z s and q = -x s + z c; p^2/a^2 + q^2/b^2 = 1.
    const double c = std::cos(yaw_rad), s = std::sin(yaw_rad);
    const double a2 = half_width * half_width, b2 = half_depth * half_depth;
    const double quadratic = s * s / a2 + c * c / b2, linear = x * s * c * (1 / a2 - 1 / b2);
    const double constant = x * x * (c * c / a2 + s * s / b2) - 1;
    const double root = linear * linear - quadratic * constant;
    if (root <= 0) return std::nullopt;
    return (-linear + std::sqrt(root)) / quadratic;
}

}  // namespace quarterturn::body
