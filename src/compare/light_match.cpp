#include "compare/light_match.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::compare {
namespace {

double light_from_srgb(double signal) {
    return signal <= 0.04045 ? signal / 12.92 : std::pow((signal + 0.055) / 1.055, 2.4);
}

double srgb_from_light(double light) {
    return light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055;
}

using enum body::Joint;
/// Along limbs, in the middle of the outline and mostly skin: what she wears differs from film to film.
struct Line {
    body::Joint from, to;
    double begin, end;  ///< shares of the way
};
constexpr std::array lines{Line{left_hip, left_knee, 0.4, 0.95},        Line{right_hip, right_knee, 0.4, 0.95},
                           Line{left_knee, left_ankle, 0.05, 0.85},     Line{right_knee, right_ankle, 0.05, 0.85},
                           Line{left_shoulder, left_elbow, 0.15, 0.85}, Line{right_shoulder, right_elbow, 0.15, 0.85}};
constexpr int places_per_line = 24;

using Light = std::array<std::vector<double>, 3>;

void look_along(const media::Image& image, Point from, Point to, const Line& line, Light& light) {
    for (int k = 0; k < places_per_line; ++k) {
        const double share = line.begin + (line.end - line.begin) * k / (places_per_line - 1);
        const int x = static_cast<int>(from.x + share * (to.x - from.x));
        const int y = static_cast<int>(from.y + share * (to.y - from.y));
        if (x < 0 || y < 0 || x >= image.width || y >= image.height) continue;
        const std::size_t at =
            (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(x)) * 3;
        for (std::size_t c = 0; c < 3; ++c) light[c].push_back(light_from_srgb(image.samples[at + c] / 255.0));
    }
}

std::optional<std::array<double, 3>> body_light(const media::Image& image, const StillBody& body, double scale) {
    if (image.channels != 3) return std::nullopt;
    Light light;
    for (const Line& line : lines) {
        const auto &a = body[line.from], &b = body[line.to];
        if (std::min(a.seen, b.seen) < 0.3) continue;
        look_along(image, {a.x * scale, a.y * scale}, {b.x * scale, b.y * scale}, line, light);
    }
    std::array<double, 3> medians{};
    for (std::size_t c = 0; c < 3; ++c) {
        if (light[c].size() < static_cast<std::size_t>(2 * places_per_line)) return std::nullopt;
        const auto half = light[c].begin() + static_cast<std::ptrdiff_t>(light[c].size() / 2);
        std::nth_element(light[c].begin(), half, light[c].end());
        medians[c] = *half;
    }
    return medians;
}

}  // namespace

std::optional<LightGains> match_light(const media::Image& now, const StillBody& now_body, double scale_now,
                                      const media::Image& before, const StillBody& before_body, double scale_before) {
    const auto a = body_light(now, now_body, scale_now), b = body_light(before, before_body, scale_before);
    if (!a || !b) return std::nullopt;
    LightGains gains{};
    constexpr double dark = 1e-4;
    for (std::size_t c = 0; c < 3; ++c)
        gains[c] = std::clamp(std::max((*a)[c], dark) / std::max((*b)[c], dark), 0.25, 4.0);
    return gains;
}

void apply_light(media::Image& image, const LightGains& gains) {
    std::array<std::array<std::uint8_t, 256>, 3> table{};
    for (std::size_t c = 0; c < 3; ++c)
        for (std::size_t v = 0; v < 256; ++v) {
            const double light = std::min(1.0, gains[c] * light_from_srgb(static_cast<double>(v) / 255));
            table[c][v] = static_cast<std::uint8_t>(std::lround(255 * srgb_from_light(light)));
        }
    for (std::size_t i = 0; i + 2 < image.samples.size(); i += 3)
        for (std::size_t c = 0; c < 3; ++c) image.samples[i + c] = table[c][image.samples[i + c]];
}

}  // namespace quarterturn::compare
