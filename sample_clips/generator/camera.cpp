#include "camera.hpp"

#include <algorithm>
#include <random>

namespace quarterturn::sample {
namespace {

/// A slow wander with RMS 1, made of a few sines that never come together again within a film.
double wander(std::uint32_t seed, double t) {
    constexpr std::array<double, 5> hz{0.31, 0.83, 1.9, 3.7, 6.1}, size{0.75, 0.75, 0.65, 0.45, 0.25};
    std::mt19937 random(seed);
    double sum = 0;
    for (std::size_t i = 0; i < hz.size(); ++i) {
        const double phase = static_cast<double>(random()) / 4294967295.0 * 6.283185307;
        sum += size[i] * std::sin(6.283185307 * hz[i] * t + phase);
    }
    return sum;
}

}  // namespace

Camera::Seen Camera::see(Vec point) const {
    const Vec local = in_frame(axes, point - place);
    const double depth = -local.z;
    const double scale = focal_px / std::max(depth, 1e-3);
    const double x = width / 2 + scale * local.x;
    return {mirrored ? width - x : x, height / 2 - scale * local.y, depth};
}

Camera camera_at(const Script& script, double t) {
    const CameraSetup& setup = script.camera;
    Camera camera;
    camera.width = script.film.width;
    camera.height = script.film.height;
    camera.focal_px = camera.height / 2 / std::tan(radians(setup.field_deg) / 2);
    camera.mirrored = setup.mirrored;
    camera.place = {setup.sideways_m, setup.height_m, setup.distance_m};
    const Frame still = looking(camera.place - Vec{0, setup.aim_height_m, 0}, {0, 1, 0});
    const double shake = setup.shake_px * camera.height / 768 / camera.focal_px;
    const double across = shake * wander(script.seed * 3 + 1, t), up = shake * wander(script.seed * 3 + 2, t);
    const double roll = radians(setup.roll_deg) + 0.5 * shake * wander(script.seed * 3 + 3, t);
    camera.axes = still * yawed(across) * pitched(up) * rolled(roll);
    return camera;
}

std::vector<std::int64_t> picture_times(const Script& script, double duration_s) {
    const FilmSetup& film = script.film;
    std::mt19937 random(script.seed * 40503U + 5U);
    const auto draw = [&] { return static_cast<double>(random()) / 4294967295.0; };
    std::vector<std::int64_t> ticks;
    const double step = ticks_per_second / film.rate;
    for (double i = 0; i * step < duration_s * ticks_per_second; i += 1) {
        if (i > 0 && film.jitter > 0 && draw() < 0.03) continue;  // a picture the phone dropped
        const double shift = i > 0 ? film.jitter * (draw() - 0.5) : 0;
        ticks.push_back(std::llround((i + shift) * step));
    }
    return ticks;
}

}  // namespace quarterturn::sample
