#include "sculptor.hpp"

#include <algorithm>

namespace quarterturn::sample {
namespace {

std::array<float, 3> floats(Vec v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

void orient(FieldPart& part, const Frame& frame, Vec inverse_scale) {
    const Vec x = inverse_scale.x * frame.x, y = inverse_scale.y * frame.y, z = inverse_scale.z * frame.z;
    const std::array<double, 9> rows{x.x, x.y, x.z, y.x, y.y, y.z, z.x, z.y, z.z};
    for (std::size_t i = 0; i < 9; ++i) part.axes[i] = static_cast<float>(rows[i]);
    part.inverse_scale = floats(inverse_scale);
}

}  // namespace

void Sculptor::add(FieldPart part, Vec middle, double reach) {
    part.blend = static_cast<float>(blend_ * h_);
    flesh_.parts.push_back(part);
    flesh_.tags.push_back({region_, body_});
    flesh_.middle.push_back(middle);
    flesh_.reach.push_back(static_cast<float>(reach));
}

void Sculptor::ball(Vec at, const Frame& frame, Vec centre, Vec radii) {
    ball(at, frame, centre, radii, Frame{});
}

void Sculptor::ball(Vec at, const Frame& frame, Vec centre, Vec radii, const Frame& turn) {
    FieldPart part;
    const Vec middle = at + h_ * (frame * centre);
    part.origin = floats(middle);
    orient(part, frame * turn, {1 / (h_ * radii.x), 1 / (h_ * radii.y), 1 / (h_ * radii.z)});
    add(part, middle, h_ * std::max({radii.x, radii.y, radii.z}));
}

void Sculptor::limb(Vec from, Vec to, Vec front, double first, double last, double belly, double wide, double deep) {
    FieldPart part;
    Frame frame;
    const double long_m = length(to - from);
    frame.y = (1 / long_m) * (to - from);
    frame.z = unit(front - dot(front, frame.y) * frame.y);
    frame.x = cross(frame.y, frame.z);
    part.origin = floats(from);
    orient(part, frame, {1 / wide, 1, 1 / deep});
    part.length = static_cast<float>(long_m);
    part.per_length = static_cast<float>(1 / long_m);
    part.c0 = static_cast<float>(h_ * first);
    part.c1 = static_cast<float>(h_ * (last - first + 4 * belly));
    part.c2 = static_cast<float>(h_ * -4 * belly);
    add(part, mix(from, to, 0.5), 0.5 * long_m + h_ * (std::max(first, last) + belly) * std::max({wide, deep, 1.0}));
}

void Sculptor::shadow(Vec from, Vec to, double radius) {
    Caster caster;
    const Vec along = to - from;
    caster.a = floats(from);
    caster.along = floats(along);
    caster.radius = static_cast<float>(h_ * radius);
    caster.inverse_length2 = static_cast<float>(1 / std::max(dot(along, along), 1e-8));
    flesh_.casters.push_back(caster);
}

}  // namespace quarterturn::sample
