#include <algorithm>

#include "painter.hpp"

namespace quarterturn::sample {
namespace {

double hashed(int x, int y, int z, std::uint32_t seed) {
    std::uint32_t h = seed + static_cast<std::uint32_t>(x) * 0x8da6b343U + static_cast<std::uint32_t>(y) * 0xd8163841U +
                      static_cast<std::uint32_t>(z) * 0xcb1ab31fU;
    h = (h ^ (h >> 15U)) * 0x2c1b3c6dU;
    h = (h ^ (h >> 12U)) * 0x297a2d39U;
    return static_cast<double>(h ^ (h >> 15U)) / 2147483647.5 - 1;
}

int whole_below(double v) {
    const int cut = static_cast<int>(v);
    return v < cut ? cut - 1 : cut;
}

/// 1 inside an ellipse, soft edge of a tenth.
double ellipse(double x, double y, double rx, double ry) {
    return 1 - smooth_step(0.85, 1.1, std::sqrt(x * x / (rx * rx) + y * y / (ry * ry)));
}

/// Metres along the part's own axes, so that paint sticks to it.
Vec in_part(const FieldPart& part, Vec p) {
    const auto d = [](float v) { return static_cast<double>(v); };
    const Vec from{p.x - d(part.origin[0]), p.y - d(part.origin[1]), p.z - d(part.origin[2])};
    std::array<double, 3> out{};
    for (std::size_t i = 0; i < 3; ++i) {
        const Vec axis{d(part.axes[3 * i]), d(part.axes[3 * i + 1]), d(part.axes[3 * i + 2])};
        out[i] = dot(axis, from) / d(part.inverse_scale[i]);
    }
    return {out[0], out[1], out[2]};
}

Rgb mix_colour(const Rgb& a, const Rgb& b, double s) {
    return {mix(a[0], b[0], s), mix(a[1], b[1], s), mix(a[2], b[2], s)};
}

}  // namespace

Rgb linear(const Rgb& screen) {
    return {std::pow(screen[0], 2.2), std::pow(screen[1], 2.2), std::pow(screen[2], 2.2)};
}

double bumps(Vec p, std::uint32_t seed) {
    const int x = whole_below(p.x), y = whole_below(p.y), z = whole_below(p.z);
    const auto eased = [](double a) { return a * a * (3 - 2 * a); };
    const double ax = eased(p.x - x), ay = eased(p.y - y), az = eased(p.z - z);
    const auto row = [&](int dy, int dz) {
        return mix(hashed(x, y + dy, z + dz, seed), hashed(x + 1, y + dy, z + dz, seed), ax);
    };
    return mix(mix(row(0, 0), row(1, 0), ay), mix(row(0, 1), row(1, 1), ay), az);
}

BodyPaint::BodyPaint(const BodyShape& shape, bool clothed)
    : shape_(shape),
      clothed_(clothed),
      skin_(linear(shape.skin)),
      hair_(linear(shape.hair)),
      suit_(linear(shape.suit)) {}

Paint BodyPaint::skin(Vec where, double scale) const {
    const double fine = bumps(scale / 0.011 * where, 11), coarse = bumps(scale / 0.045 * where, 12);
    const double vary = 1 + shape_.skin_texture * (0.8 * fine + 0.9 * coarse);
    return {{skin_[0] * vary, skin_[1] * vary, skin_[2] * vary}, 0.16};
}

/// Lower part of the posing suit; coordinates of the pelvis frame in body heights.
bool BodyPaint::in_suit(Vec q) const {
    const double x = std::abs(q.x);
    if (shape_.sex == Sex::male) return q.y < 0.045 + 0.05 * x && q.y > -0.075 + 0.62 * std::max(0.0, x - 0.012);
    const double front = -0.080 + 1.05 * std::max(0.0, x - 0.014), back = -0.072 + 0.80 * std::max(0.0, x - 0.026);
    const double cut = mix(back, front, smooth_step(-0.04, 0.04, q.z));
    return q.y < 0.034 + 0.16 * x && q.y > cut;
}

/// Upper part, women only; coordinates of the chest frame in body heights.
bool BodyPaint::in_top(Vec q) const {
    if (shape_.sex == Sex::male) return false;
    const double x = std::abs(q.x);
    const bool band = std::abs(q.y + 0.093) < 0.0065;
    if (q.z < 0.02) return band && q.y < 0;
    const double cup = (x - 0.037) * (x - 0.037) / (0.033 * 0.033) + (q.y + 0.076) * (q.y + 0.076) / (0.026 * 0.026);
    const bool strap = q.y > -0.06 && std::abs(x - (0.036 - 0.30 * (q.y + 0.06))) < 0.0045;
    return band || cup < 1 || strap;
}

/// Lines that muscles draw on the skin: 1 leaves it as it is.
double BodyPaint::marks(Vec chest, Vec pelvis) const {
    double dark = 0;
    const double middle = std::exp(-std::pow(chest.x / 0.0045, 2));
    if (chest.z > 0) {
        const double below = smooth_step(-0.10, -0.12, chest.y);
        dark += 0.20 * middle * below * smooth_step(0.03, 0.06, pelvis.y);
        const double belly = smooth_step(0.042, 0.030, std::abs(chest.x)) * smooth_step(0.075, 0.085, pelvis.y) * below;
        for (const double y : {-0.135, -0.162, -0.190})
            dark += 0.13 * belly * std::exp(-std::pow((chest.y - y) / 0.004, 2));
        const double edge = std::exp(-std::pow((std::abs(chest.x) - 0.043 - 0.06 * (chest.y + 0.15)) / 0.006, 2));
        dark += 0.12 * edge * below * smooth_step(0.045, 0.065, pelvis.y);
        dark += 0.45 * ellipse(pelvis.x, pelvis.y - 0.066, 0.006, 0.008);
        dark += 0.10 * std::exp(-std::pow(chest.x / 0.005, 2)) * (1 - below) * smooth_step(-0.02, -0.04, chest.y);
    } else {
        dark += 0.26 * std::exp(-std::pow(chest.x / 0.006, 2)) * smooth_step(0.045, 0.06, pelvis.y) *
                smooth_step(0.0, -0.02, chest.y);
        const double blade = std::exp(-std::pow((std::abs(chest.x) - 0.052 - 0.25 * (chest.y + 0.07)) / 0.006, 2));
        dark += 0.10 * blade * smooth_step(-0.03, -0.045, chest.y) * smooth_step(-0.11, -0.09, chest.y);
    }
    return 1 - std::min(dark, 0.6);
}

/// Eyes, brows, lips and nostrils: a hint of a face; coordinates of the head frame in half head heights.
Paint BodyPaint::face(Vec q, Paint base) const {
    if (q.z < 0.25) return base;
    const double x = std::abs(q.x);
    const double brow = ellipse(x - 0.30, q.y - 0.27 - 0.10 * (x - 0.30), 0.19, 0.045);
    base.colour = mix_colour(base.colour, hair_, 0.8 * brow);
    const double socket = ellipse(x - 0.29, q.y - 0.13, 0.20, 0.12);
    for (double& c : base.colour) c *= 1 - 0.22 * socket;
    const double white = ellipse(x - 0.29, q.y - 0.095, 0.120, 0.050);
    base.colour = mix_colour(base.colour, {0.45, 0.43, 0.41}, 0.8 * white);
    base.colour = mix_colour(base.colour, {0.03, 0.02, 0.015}, ellipse(x - 0.285, q.y - 0.098, 0.068, 0.062));
    const double lash = ellipse(x - 0.29, q.y - 0.155, 0.15, 0.022);
    base.colour = mix_colour(base.colour, {0.02, 0.015, 0.01}, 0.7 * lash);
    const double lips = ellipse(q.x, q.y + 0.525, 0.235, 0.085);
    const Rgb red{skin_[0] * 0.75, skin_[1] * 0.42, skin_[2] * 0.42};
    base.colour = mix_colour(base.colour, red, (shape_.sex == Sex::male ? 0.4 : 0.8) * lips);
    base.colour = mix_colour(base.colour, {0.06, 0.02, 0.02}, 0.7 * ellipse(q.x, q.y + 0.520, 0.20, 0.018));
    const double nostril = ellipse(x - 0.07, q.y + 0.285, 0.05, 0.028);
    for (double& c : base.colour) c *= 1 - 0.6 * nostril;
    return base;
}

Paint BodyPaint::at(Vec p, const PartTag& tag, const FieldPart& part, const PaintFrames& f, double h) const {
    const Vec chest = (1 / h) * in_frame(f.chest, p - f.chest_at),
              pelvis = (1 / h) * in_frame(f.pelvis, p - f.pelvis_at);
    const Vec stuck = in_part(part, p);
    switch (tag.region) {
        case Region::hair: {
            const Vec q = in_frame(f.head, p - f.head_at);
            const double strand = 1 + 0.35 * bumps({q.x / 0.006, q.y / 0.03, q.z / 0.03}, 31);
            return {{hair_[0] * strand, hair_[1] * strand, hair_[2] * strand}, 0.10};
        }
        case Region::head: {
            const Vec q = in_frame(f.head, p - f.head_at);
            return face((1 / (0.0665 * h)) * q, skin(q, 1));
        }
        case Region::shoe:
            return {{suit_[0] * 0.5 + 0.02, suit_[1] * 0.5 + 0.02, suit_[2] * 0.5 + 0.02}, 0.25};
        case Region::trunk:
        case Region::pelvis: {
            if (clothed_ && tag.region == Region::trunk) return {{0.30, 0.32, 0.30}, 0.02};
            if (clothed_ || in_suit(pelvis)) return {suit_, clothed_ ? 0.02 : 0.22};
            if (in_top(chest)) return {suit_, 0.22};
            Paint base = skin(h * (tag.region == Region::trunk ? chest : pelvis), 1);
            const double mark = marks(chest, pelvis);
            for (double& c : base.colour) c *= mark;
            return base;
        }
        case Region::left_leg:
        case Region::right_leg:
            if (clothed_) return {suit_, 0.02};
            if (pelvis.y > -0.09 && std::abs(pelvis.x) < 0.105 && in_suit(pelvis)) return {suit_, 0.22};
            return skin(stuck, 1);
        case Region::left_arm:
        case Region::right_arm:
            if (clothed_ && length(p - f.shoulder[tag.region == Region::left_arm ? 0 : 1]) < 0.12 * h)
                return {{0.30, 0.32, 0.30}, 0.02};
            return skin(stuck, 1);
        case Region::left_hand:
        case Region::right_hand:
            break;
    }
    return skin(stuck, 1);
}

}  // namespace quarterturn::sample
