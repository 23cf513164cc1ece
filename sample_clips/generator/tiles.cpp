#include "tiles.hpp"

#include <algorithm>

namespace quarterturn::sample {
namespace {

constexpr double shade_reach = 0.055;  ///< metres over which one part can darken another
constexpr double trunk_joint = 0.06;   ///< metres that the wide joints of the trunk can swell

Vec vec_of(const FieldPart& part, std::size_t axis) {
    const auto d = [&](std::size_t i) { return static_cast<double>(part.axes[3 * axis + i]); };
    return (1 / static_cast<double>(part.inverse_scale[axis])) * Vec{d(0), d(1), d(2)};
}

}  // namespace

void TileMap::sort(const Camera& camera, const Flesh& flesh) {
    across_ = (static_cast<int>(camera.width) + tile_size - 1) / tile_size;
    down_ = (static_cast<int>(camera.height) + tile_size - 1) / tile_size;
    tiles_.assign(static_cast<std::size_t>(across_) * static_cast<std::size_t>(down_), {});
    for (std::size_t i = 0; i < flesh.parts.size(); ++i) {
        const FieldPart& part = flesh.parts[i];
        const Camera::Seen middle = camera.see(flesh.middle[i]);
        const bool trunk = flesh.tags[i].region <= Region::pelvis;
        // a smooth joint swells beyond the parts it joins
        const double grow =
            static_cast<double>(flesh.reach[i]) + (trunk ? trunk_joint : 0.8 * static_cast<double>(part.blend));
        if (middle.depth < grow + 0.15) continue;
        const double along = static_cast<double>(part.length) / static_cast<double>(part.inverse_scale[1]);
        const bool line = part.per_length > 0;  // an ellipsoid's line is a point
        const Vec origin{static_cast<double>(part.origin[0]), static_cast<double>(part.origin[1]),
                         static_cast<double>(part.origin[2])};
        Shape shape;
        shape.a = camera.see(origin);
        shape.b = line ? camera.see(origin + along * vec_of(part, 1)) : shape.a;
        const double thick = line ? grow - 0.5 * along : grow;
        const double scale = camera.focal_px / std::max(0.15, std::min(shape.a.depth, shape.b.depth) - thick);
        shape.radius = thick * scale + 1.5;
        shape.margin = shade_reach * scale;
        shape.nearest = static_cast<float>(middle.depth - grow);
        shape.furthest = static_cast<float>((middle.depth + grow) * 1.35);
        mark(shape, static_cast<std::uint16_t>(i));
    }
}

void TileMap::mark(const Shape& shape, std::uint16_t part) {
    constexpr double half_diagonal = tile_size * 0.7072;
    const Camera::Seen &a = shape.a, &b = shape.b;
    const double reach = shape.radius + shape.margin;
    const auto tile_of = [](double v, int count) {
        return static_cast<int>(std::clamp(std::floor(v / tile_size), 0.0, static_cast<double>(count - 1)));
    };
    const int left = tile_of(std::min(a.x, b.x) - reach, across_), right = tile_of(std::max(a.x, b.x) + reach, across_);
    const int top = tile_of(std::min(a.y, b.y) - reach, down_), bottom = tile_of(std::max(a.y, b.y) + reach, down_);
    const double dx = b.x - a.x, dy = b.y - a.y, square = std::max(dx * dx + dy * dy, 1e-9);
    for (int ty = top; ty <= bottom; ++ty)
        for (int tx = left; tx <= right; ++tx) {
            const double x = (tx + 0.5) * tile_size - a.x, y = (ty + 0.5) * tile_size - a.y;
            const double u = std::clamp((x * dx + y * dy) / square, 0.0, 1.0);
            const double away = std::hypot(x - u * dx, y - u * dy);
            if (away > reach + half_diagonal) continue;
            TileParts& tile =
                tiles_[static_cast<std::size_t>(ty) * static_cast<std::size_t>(across_) + static_cast<std::size_t>(tx)];
            tile.wide.push_back(part);
            if (away > shape.radius + half_diagonal) continue;
            tile.tight.push_back(part);
            tile.nearest = std::min(tile.nearest, shape.nearest);
            tile.furthest = std::max(tile.furthest, shape.furthest);
        }
}

}  // namespace quarterturn::sample
