#include "app/tone.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::app {
namespace {

struct Weights {
    double red, blue;
};

Weights weights_of(media::Matrix matrix) {
    switch (matrix) {
        case media::Matrix::bt601:
            return {0.299, 0.114};
        case media::Matrix::bt709:
            return {0.2126, 0.0722};
        case media::Matrix::bt2020:
            return {0.2627, 0.0593};
    }
    return {0.2126, 0.0722};
}

// ITU-R BT.2100: HLG inverse OETF, scene light 0..1.
double hlg_scene(double e) {
    constexpr double a = 0.17883277;
    constexpr double b = 1 - 4 * a;
    const double c = 0.5 - a * std::log(4 * a);
    return e <= 0.5 ? e * e / 3 : (std::exp((e - c) / a) + b) / 12;
}

// SMPTE ST 2084: display light in cd/m2.
double pq_light(double e) {
    constexpr double m1 = 2610.0 / 16384;
    constexpr double m2 = 2523.0 / 4096 * 128;
    constexpr double c1 = 3424.0 / 4096;
    constexpr double c2 = 2413.0 / 4096 * 32;
    constexpr double c3 = 2392.0 / 4096 * 32;
    const double p = std::pow(std::max(e, 0.0), 1 / m2);
    return 10000 * std::pow(std::max(p - c1, 0.0) / (c2 - c3 * p), 1 / m1);
}

constexpr double white_cd = 203;
constexpr double peak_cd = 1000;

// Extended Reinhard above the knee: slope 1 there, exactly 1 at the peak.
double rolled_off(double light) {
    constexpr double knee = 0.5;
    if (light <= knee) return light;
    const double over = (light - knee) / (1 - knee);
    const double most = (peak_cd / white_cd - knee) / (1 - knee);
    return std::min(1.0, knee + (1 - knee) * over * (1 + over / (most * most)) / (1 + over));
}

double srgb_encoded(double linear) {
    const double c = std::clamp(linear, 0.0, 1.0);
    return c <= 0.0031308 ? 12.92 * c : 1.055 * std::pow(c, 1 / 2.4) - 0.055;
}

// ITU-R BT.2087: BT.2020 to BT.709 primaries, linear light.
Triple to_bt709(const Triple& c) {
    return {1.6605 * c[0] - 0.5876 * c[1] - 0.0728 * c[2], -0.1246 * c[0] + 1.1329 * c[1] - 0.0083 * c[2],
            -0.0182 * c[0] - 0.1006 * c[1] + 1.1187 * c[2]};
}

}  // namespace

YuvMatrix yuv_matrix(media::Colour colour, int bits) {
    const auto [kr, kb] = weights_of(colour.matrix);
    const double kg = 1 - kr - kb;
    const double largest = bits == 10 ? 1023 : 255;
    const double unit = bits == 10 ? 4 : 1;
    const bool limited = colour.range == media::Range::limited;
    const double y_scale = limited ? largest / (219 * unit) : 1;
    const double c_scale = limited ? largest / (224 * unit) : 1;
    const double y_zero = limited ? 16 * unit / largest : 0;
    const double c_zero = 128 * unit / largest;
    const double cr_r = 2 * (1 - kr) * c_scale;
    const double cb_b = 2 * (1 - kb) * c_scale;
    const double cb_g = -2 * (1 - kb) * kb / kg * c_scale;
    const double cr_g = -2 * (1 - kr) * kr / kg * c_scale;
    YuvMatrix matrix;
    matrix.rows = {{{y_scale, 0, cr_r}, {y_scale, cb_g, cr_g}, {y_scale, cb_b, 0}}};
    matrix.offset = {-y_scale * y_zero - cr_r * c_zero, -y_scale * y_zero - (cb_g + cr_g) * c_zero,
                     -y_scale * y_zero - cb_b * c_zero};
    return matrix;
}

Triple to_standard(const Triple& rgb, media::Transfer transfer) {
    if (transfer == media::Transfer::standard) return rgb;
    Triple light{};
    if (transfer == media::Transfer::pq) {
        for (std::size_t i = 0; i < 3; ++i) light[i] = std::min(pq_light(rgb[i]), peak_cd) / white_cd;
    } else {
        for (std::size_t i = 0; i < 3; ++i) light[i] = hlg_scene(std::clamp(rgb[i], 0.0, 1.0));
        const double luminance = 0.2627 * light[0] + 0.6780 * light[1] + 0.0593 * light[2];
        for (double& channel : light) channel *= peak_cd / white_cd * std::pow(std::max(luminance, 0.0), 0.2);
    }
    Triple result = to_bt709(light);
    const double most = std::max({result[0], result[1], result[2], 1e-9});
    for (double& channel : result) channel = srgb_encoded(channel * rolled_off(most) / most);
    return result;
}

Triple shown_colour(double y, double cb, double cr, media::Colour colour, int bits) {
    const YuvMatrix m = yuv_matrix(colour, bits);
    Triple rgb{};
    for (std::size_t i = 0; i < 3; ++i)
        rgb[i] = std::clamp(m.rows[i][0] * y + m.rows[i][1] * cb + m.rows[i][2] * cr + m.offset[i], 0.0, 1.0);
    return to_standard(rgb, colour.transfer);
}

}  // namespace quarterturn::app
