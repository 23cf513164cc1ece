#pragma once
/// Small three-dimensional geometry for the figure. Right-handed world: x to the right in the picture of a camera that
/// looks straight at the room, y up, z towards the camera; metres. Floor is y = 0.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace quarterturn::sample {

struct Vec {
    double x = 0, y = 0, z = 0;
};
inline Vec operator+(Vec a, Vec b) {
    return {a.x + b.x, a.y + b.y, a.z + b.z};
}
inline Vec operator-(Vec a, Vec b) {
    return {a.x - b.x, a.y - b.y, a.z - b.z};
}
inline Vec operator*(double s, Vec a) {
    return {s * a.x, s * a.y, s * a.z};
}
inline double dot(Vec a, Vec b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
inline Vec cross(Vec a, Vec b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vec a) {
    return std::sqrt(dot(a, a));
}
inline Vec unit(Vec a) {
    return (1 / std::max(length(a), 1e-12)) * a;
}
inline Vec mix(Vec a, Vec b, double s) {
    return a + s * (b - a);
}
inline double mix(double a, double b, double s) {
    return a + s * (b - a);
}

inline double radians(double degrees) {
    return degrees * std::numbers::pi / 180;
}
inline double degrees(double rad) {
    return rad * 180 / std::numbers::pi;
}

/// Columns are the axes of a frame: frame * (a, b, c) = a * x + b * y + c * z.
struct Frame {
    Vec x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};
};
inline Vec operator*(const Frame& f, Vec v) {
    return v.x * f.x + v.y * f.y + v.z * f.z;
}
inline Frame operator*(const Frame& a, const Frame& b) {
    return {a * b.x, a * b.y, a * b.z};
}
/// Coordinates of `v` in the (orthonormal) frame.
inline Vec in_frame(const Frame& f, Vec v) {
    return {dot(f.x, v), dot(f.y, v), dot(f.z, v)};
}

/// About the vertical; positive yaw turns a body to its own right (front of the body towards -x), so a body facing the
/// camera at yaw 0 shows its left side at +90 degrees.
inline Frame yawed(double rad) {
    const double c = std::cos(rad), s = std::sin(rad);
    return {{c, 0, s}, {0, 1, 0}, {-s, 0, c}};
}
/// About the body's left axis; positive bends forward.
inline Frame pitched(double rad) {
    const double c = std::cos(rad), s = std::sin(rad);
    return {{1, 0, 0}, {0, c, s}, {0, -s, c}};
}
/// About the body's front axis; positive leans to the body's left.
inline Frame rolled(double rad) {
    const double c = std::cos(rad), s = std::sin(rad);
    return {{c, -s, 0}, {s, c, 0}, {0, 0, 1}};
}

struct Quat {
    double w = 1, x = 0, y = 0, z = 0;
};
Quat quat_of(const Frame& frame);
Frame frame_of(const Quat& q);
/// Shortest way between two orientations.
Quat slerp(const Quat& a, const Quat& b, double s);

/// Frame whose z looks along `ahead` and whose y is as near to `up` as possible.
Frame looking(Vec ahead, Vec up);

/// Position along the minimum-jerk movement (Flash and Hogan 1985, J Neurosci 5:1688): 10 s^3 - 15 s^4 + 6 s^5.
inline double minimum_jerk(double s) {
    s = std::clamp(s, 0.0, 1.0);
    return s * s * s * (10 - 15 * s + 6 * s * s);
}
inline double smooth_step(double from, double to, double v) {
    const double s = std::clamp((v - from) / (to - from), 0.0, 1.0);
    return s * s * (3 - 2 * s);
}

}  // namespace quarterturn::sample
