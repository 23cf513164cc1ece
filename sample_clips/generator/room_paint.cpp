#include <algorithm>
#include <random>

#include "painter.hpp"

namespace quarterturn::sample {

namespace {

/// The 26th power: how narrow the highlight is.
double highlight(double c) {
    const double c2 = c * c, c8 = c2 * c2 * c2 * c2;
    return c8 * c8 * c8 * c2;
}

}  // namespace

Vec key_light() {
    return unit({-0.52, 0.86, 0.74});
}

Rgb lit_surface(const Paint& paint, Vec n, Vec to_eye, double open, double lit) {
    const Vec light = key_light();
    const double facing = std::max(0.0, dot(n, light)) * lit;
    const double sky = 0.5 + 0.5 * n.y, front = 0.5 + 0.5 * n.z;
    const double around = (0.19 + 0.13 * sky + 0.10 * front) * open * open;
    const double rim = 0.05 * open * std::max(0.0, n.x * 0.8 + 0.2);
    const Vec half = unit(light + to_eye);
    const double side = 1 - std::max(0.0, dot(n, to_eye)), edge = side * side;
    const double shine = paint.shine * (highlight(std::max(0.0, dot(n, half))) * lit + 0.25 * edge * edge * open);
    const double total = around + rim;
    // the key light is warm, the surroundings a little cool
    return {paint.colour[0] * (0.86 * facing + total * 0.98) + shine,
            paint.colour[1] * (0.82 * facing + total) + shine * 0.97,
            paint.colour[2] * (0.76 * facing + total * 1.06) + shine * 0.92};
}

RoomPaint::RoomPaint(const Script& script) : wall_z_(-script.room.wall_m), seed_(script.seed) {
    if (!script.room.clutter) return;
    std::mt19937 random(script.seed * 7919U + 3U);
    const auto draw = [&](double low, double high) {
        return mix(low, high, static_cast<double>(random()) / 4294967295.0);
    };
    things_.push_back({draw(-1.5, -1.2), 1.0, 0.42, 1.02, {0.16, 0.12, 0.09}, false});  // a door
    for (int shelf = 0; shelf < 2; ++shelf) {
        const double y = 1.15 + 0.42 * shelf, left = draw(0.25, 0.45);
        things_.push_back({left + 0.4, y, 0.45, 0.018, {0.35, 0.24, 0.14}, false});
        for (double x = left; x < left + 0.75; x += draw(0.04, 0.075)) {
            const double tall = draw(0.08, 0.14);
            things_.push_back(
                {x, y + 0.02 + tall, 0.018, tall, {draw(0.05, 0.5), draw(0.05, 0.4), draw(0.05, 0.4)}, false});
        }
    }
    for (int frame = 0; frame < 3; ++frame) {
        const double x = draw(-0.7, 0.2), y = draw(1.0, 1.9), w = draw(0.10, 0.22), h = draw(0.10, 0.24);
        things_.push_back({x, y, w + 0.02, h + 0.02, {0.06, 0.05, 0.05}, false});
        things_.push_back({x, y, w, h, {draw(0.2, 0.7), draw(0.2, 0.6), draw(0.2, 0.6)}, false});
        things_.push_back(
            {x + draw(-0.05, 0.05), y, w * 0.5, h * 0.5, {draw(0.05, 0.5), draw(0.1, 0.5), draw(0.1, 0.5)}, true});
    }
    for (int leaf = 0; leaf < 14; ++leaf)
        things_.push_back({draw(0.75, 1.15),
                           draw(0.35, 0.95),
                           draw(0.04, 0.10),
                           draw(0.03, 0.10),
                           {0.05, draw(0.12, 0.26), 0.05},
                           true});
    things_.push_back({0.95, 0.18, 0.14, 0.18, {0.42, 0.20, 0.12}, false});
}

Rgb RoomPaint::wall(double x, double y) const {
    Rgb colour{0.50, 0.49, 0.46};
    for (const Thing& thing : things_) {
        const double dx = (x - thing.x) / thing.half_x, dy = (y - thing.y) / thing.half_y;
        if (thing.round ? dx * dx + dy * dy < 1 : std::abs(dx) < 1 && std::abs(dy) < 1) colour = thing.colour;
    }
    if (y < 0.085) colour = {0.60, 0.59, 0.57};
    if (y < 0.006 || std::abs(y - 0.085) < 0.004) colour = {0.25, 0.24, 0.23};
    const double light =
        (1.03 - 0.05 * x * x * 0.5 - 0.09 * std::abs(y - 1.5)) * (1 + 0.012 * bumps({x * 3, y * 3, 0}, seed_));
    return {colour[0] * light, colour[1] * light, colour[2] * light};
}

Rgb RoomPaint::floor(double x, double z) const {
    const double plank = std::floor(x / 0.17);
    const double shade =
        1 + 0.10 * bumps({plank * 1.7 + 0.5, 0.5, 0.5}, seed_ + 1) + 0.05 * bumps({x * 60, z * 2.5, plank}, seed_ + 2);
    const double seam = std::abs(x / 0.17 - std::round(x / 0.17)) * 0.17;
    const double line = 1 - 0.35 * (1 - smooth_step(0.001, 0.005, seam));
    const double light =
        std::max(0.35, 1.0 - 0.035 * (x * x + z * z) - (z < wall_z_ + 0.12 ? 0.25 * (wall_z_ + 0.12 - z) / 0.12 : 0)) *
        shade * line;
    return {0.235 * light, 0.155 * light, 0.098 * light};
}

RoomPaint::Spot RoomPaint::look(Vec eye, Vec way) const {
    const double to_wall = way.z < -1e-6 ? (wall_z_ - eye.z) / way.z : 1e9;
    const double to_floor = way.y < -1e-6 ? -eye.y / way.y : 1e9;
    if (to_wall > 1e8 && to_floor > 1e8) return {{0.4, 0.4, 0.38}, eye + 50 * way};
    if (to_wall <= to_floor) {
        const Vec p = eye + to_wall * way;
        return {wall(p.x, p.y), p};
    }
    const Vec p = eye + to_floor * way;
    return {floor(p.x, p.z), p};
}

}  // namespace quarterturn::sample
