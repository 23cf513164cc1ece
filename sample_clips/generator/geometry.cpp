#include "geometry.hpp"

namespace quarterturn::sample {

Quat quat_of(const Frame& f) {
    const double trace = f.x.x + f.y.y + f.z.z;
    if (trace > 0) {
        const double s = 2 * std::sqrt(trace + 1);
        return {s / 4, (f.y.z - f.z.y) / s, (f.z.x - f.x.z) / s, (f.x.y - f.y.x) / s};
    }
    if (f.x.x > f.y.y && f.x.x > f.z.z) {
        const double s = 2 * std::sqrt(1 + f.x.x - f.y.y - f.z.z);
        return {(f.y.z - f.z.y) / s, s / 4, (f.y.x + f.x.y) / s, (f.z.x + f.x.z) / s};
    }
    if (f.y.y > f.z.z) {
        const double s = 2 * std::sqrt(1 + f.y.y - f.x.x - f.z.z);
        return {(f.z.x - f.x.z) / s, (f.y.x + f.x.y) / s, s / 4, (f.z.y + f.y.z) / s};
    }
    const double s = 2 * std::sqrt(1 + f.z.z - f.x.x - f.y.y);
    return {(f.x.y - f.y.x) / s, (f.z.x + f.x.z) / s, (f.z.y + f.y.z) / s, s / 4};
}

Frame frame_of(const Quat& q) {
    const auto [w, x, y, z] = q;
    return {{1 - 2 * (y * y + z * z), 2 * (x * y + w * z), 2 * (x * z - w * y)},
            {2 * (x * y - w * z), 1 - 2 * (x * x + z * z), 2 * (y * z + w * x)},
            {2 * (x * z + w * y), 2 * (y * z - w * x), 1 - 2 * (x * x + y * y)}};
}

Quat slerp(const Quat& a, const Quat& b, double s) {
    double d = a.w * b.w + a.x * b.x + a.y * b.y + a.z * b.z;
    const double sign = d < 0 ? -1 : 1;
    d = std::fmin(d * sign, 1);
    const double angle = std::acos(d);
    const double bottom = std::sin(angle);
    const double p = bottom < 1e-6 ? 1 - s : std::sin((1 - s) * angle) / bottom;
    const double r = sign * (bottom < 1e-6 ? s : std::sin(s * angle) / bottom);
    Quat out{p * a.w + r * b.w, p * a.x + r * b.x, p * a.y + r * b.y, p * a.z + r * b.z};
    const double n = 1 / std::sqrt(out.w * out.w + out.x * out.x + out.y * out.y + out.z * out.z);
    return {out.w * n, out.x * n, out.y * n, out.z * n};
}

Frame looking(Vec ahead, Vec up) {
    Frame f;
    f.z = unit(ahead);
    f.x = unit(cross(up, f.z));
    f.y = cross(f.z, f.x);
    return f;
}

}  // namespace quarterturn::sample
