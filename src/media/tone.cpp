#include "media/tone.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace quarterturn::media {
namespace {

constexpr double white_cd = 203.0;  // ITU-R BT.2408: HDR reference white
constexpr double peak_cd = 1000.0;  // the display BT.2100's HLG system gamma 1.2 belongs to
constexpr double peak = peak_cd / white_cd;
constexpr double knee = 0.5;  // light up to half of white is left alone
constexpr int table_size = 4096;

using Table = std::vector<float>;

/// ITU-R BT.2100 table 5: scene light 0..1 from the HLG signal.
double hlg_scene(double signal) {
    constexpr double a = 0.17883277;
    constexpr double b = 1 - 4 * a;
    const double c = 0.5 - a * std::log(4 * a);
    return signal <= 0.5 ? signal * signal / 3 : (std::exp((signal - c) / a) + b) / 12;
}

/// SMPTE ST 2084: cd/m2 from the PQ signal.
double pq_light(double signal) {
    constexpr double m1 = 2610.0 / 16384;
    constexpr double m2 = 2523.0 / 4096 * 128;
    constexpr double c1 = 3424.0 / 4096;
    constexpr double c2 = 2413.0 / 4096 * 32;
    constexpr double c3 = 2392.0 / 4096 * 32;
    const double power = std::pow(signal, 1 / m2);
    return 10000 * std::pow(std::max(power - c1, 0.0) / (c2 - c3 * power), 1 / m1);
}

/// 8-bit sRGB for light 0..1. Finer near black, where the curve is steep, by indexing with the square root.
std::uint8_t srgb_byte(float light) {
    static const std::array<std::uint8_t, table_size + 1> table = [] {
        std::array<std::uint8_t, table_size + 1> made{};
        for (std::size_t i = 0; i < made.size(); ++i) {
            const double root = static_cast<double>(i) / table_size;
            made[i] = static_cast<std::uint8_t>(std::lround(255 * srgb_from_light(root * root)));
        }
        return made;
    }();
    const float root = std::sqrt(std::clamp(light, 0.0F, 1.0F));
    return table[static_cast<std::size_t>(std::lround(root * table_size))];
}

template <class Number>
using Rgb = std::array<Number, 3>;

/// ITU-R BT.2087: linear BT.2020 to linear BT.709 primaries.
template <class Number>
Rgb<Number> to_709(const Rgb<Number>& wide) {
    constexpr std::array<Rgb<Number>, 3> rows{{{Number(1.6605), Number(-0.5876), Number(-0.0728)},
                                               {Number(-0.1246), Number(1.1329), Number(-0.0083)},
                                               {Number(-0.0182), Number(-0.1006), Number(1.1187)}}};
    Rgb<Number> out{};
    for (std::size_t i = 0; i < 3; ++i) out[i] = rows[i][0] * wide[0] + rows[i][1] * wide[1] + rows[i][2] * wide[2];
    return out;
}

/// HLG display light from scene light: the system gamma acts on luminance, so colours keep their ratio.
template <class Number>
Rgb<Number> hlg_display(const Rgb<Number>& scene) {
    const Number luminance = Number(0.2627) * scene[0] + Number(0.6780) * scene[1] + Number(0.0593) * scene[2];
    const Number gain = Number(peak) * std::pow(std::max(luminance, Number(0)), Number(0.2));
    return {gain * scene[0], gain * scene[1], gain * scene[2]};
}

/// The brightest channel is rolled off and the others follow in proportion, so highlights keep their hue.
template <class Number>
Rgb<Number> rolled_off_rgb(const Rgb<Number>& light) {
    const Number most = std::max({light[0], light[1], light[2]});
    if (most <= Number(knee)) return light;
    const Number scale = static_cast<Number>(rolled_off(static_cast<double>(most))) / most;
    return {scale * light[0], scale * light[1], scale * light[2]};
}

/// Light on a standard screen, not clipped, from HLG scene light or PQ display light (BT.2020 primaries).
template <class Number>
Rgb<Number> standard_light(Rgb<Number> wide, Transfer transfer) {
    if (transfer == Transfer::hlg) wide = hlg_display(wide);
    return rolled_off_rgb(to_709(wide));
}

/// What `standard_light` starts from.
double linear_from_signal(double signal, Transfer transfer) {
    return transfer == Transfer::hlg ? hlg_scene(signal) : light_from_signal(signal, transfer);
}

/// `linear_from_signal` for every 12-bit signal.
Table linear_table(Transfer transfer) {
    Table table(table_size + 1);
    for (int i = 0; i <= table_size; ++i)
        table[static_cast<std::size_t>(i)] =
            static_cast<float>(linear_from_signal(static_cast<double>(i) / table_size, transfer));
    return table;
}

const Table& linear(Transfer transfer) {
    static const Table hlg = linear_table(Transfer::hlg);
    static const Table pq = linear_table(Transfer::pq);
    return transfer == Transfer::hlg ? hlg : pq;
}

}  // namespace

double light_from_signal(double signal, Transfer transfer) {
    if (transfer == Transfer::hlg) return peak * std::pow(hlg_scene(signal), 1.2);
    return std::min(pq_light(signal), peak_cd) / white_cd;
}

double rolled_off(double light) {
    if (light <= knee) return std::max(light, 0.0);
    // Extended Reinhard from the knee on: slope 1 at the knee, exactly 1 at the peak.
    const double over = (light - knee) / (1 - knee);
    const double most = (peak - knee) / (1 - knee);
    return std::min(1.0, knee + (1 - knee) * over * (1 + over / (most * most)) / (1 + over));
}

double srgb_from_light(double light) {
    return light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055;
}

const std::array<std::uint8_t, 256>& grey_table(Transfer transfer) {
    const auto make = [](Transfer kind) {
        std::array<std::uint8_t, 256> table{};
        for (std::size_t i = 0; i < table.size(); ++i) {
            const double light = rolled_off(light_from_signal(static_cast<double>(i) / 255, kind));
            table[i] = static_cast<std::uint8_t>(std::lround(255 * srgb_from_light(light)));
        }
        return table;
    };
    static const std::array<std::uint8_t, 256> hlg = make(Transfer::hlg);
    static const std::array<std::uint8_t, 256> pq = make(Transfer::pq);
    return transfer == Transfer::hlg ? hlg : pq;
}

void to_standard(std::span<const std::uint16_t> in, Transfer transfer, std::span<std::uint8_t> out) {
    const Table& table = linear(transfer);
    // Sixteen signals share an entry; a straight line between two is as good as the curve.
    const auto light = [&](std::uint16_t signal) {
        const float place = static_cast<float>(signal) * (table_size / 65535.0F);
        const auto at = std::min(static_cast<std::size_t>(place), std::size_t{table_size - 1});
        const float share = place - static_cast<float>(at);
        return table[at] + share * (table[at + 1] - table[at]);
    };
    for (std::size_t i = 0; i + 2 < in.size(); i += 3) {
        const Rgb<float> shown = standard_light<float>({light(in[i]), light(in[i + 1]), light(in[i + 2])}, transfer);
        for (std::size_t c = 0; c < 3; ++c) out[i + c] = srgb_byte(shown[c]);
    }
}

Triple to_standard(const Triple& rgb, Transfer transfer) {
    if (transfer == Transfer::standard) return rgb;
    Triple linear_light{};
    for (std::size_t i = 0; i < 3; ++i) linear_light[i] = linear_from_signal(std::clamp(rgb[i], 0.0, 1.0), transfer);
    Triple shown = standard_light(linear_light, transfer);
    for (double& channel : shown) channel = srgb_from_light(std::clamp(channel, 0.0, 1.0));
    return shown;
}

}  // namespace quarterturn::media
