#pragma once
/// From high dynamic range signals (ITU-R BT.2100) to a standard screen.
#include <array>
#include <cstdint>
#include <span>

#include "media/picture.hpp"

namespace quarterturn::media {

/// Light on a 1000 cd/m2 reference display, 1 = diffuse white at 203 cd/m2 (ITU-R BT.2408), for a signal in 0..1.
/// HLG: inverse OETF and the system gamma 1.2 of BT.2100 on grey; PQ: the EOTF of SMPTE ST 2084, clipped at 1000 cd/m2.
[[nodiscard]] double light_from_signal(double signal, Transfer transfer);

/// Light 0..1 on a standard screen: darker half unchanged, highlights rolled off smoothly so that the brightest
/// reach 1.
[[nodiscard]] double rolled_off(double light);

/// sRGB (IEC 61966-2-1) signal 0..1 for light 0..1.
[[nodiscard]] double srgb_from_light(double light);

/// For every 8-bit full-range grey of an HLG or PQ picture its grey on a standard screen.
[[nodiscard]] const std::array<std::uint8_t, 256>& grey_table(Transfer transfer);

/// R'G'B' or light, each channel 0..1.
using Triple = std::array<double, 3>;

/// Non-linear R'G'B' to sRGB. HLG and PQ (BT.2020 primaries): light on the reference display as above, BT.709 primaries
/// (ITU-R BT.2087), rolled off by the brightest channel, sRGB's curve. Standard pictures stay as they are.
[[nodiscard]] Triple to_standard(const Triple& rgb, Transfer transfer);

/// The same for 16-bit R'G'B' (BT.2020 primaries, HLG or PQ) to 8-bit sRGB, sample by sample, through tables; `out` is
/// as long as `in`.
void to_standard(std::span<const std::uint16_t> in, Transfer transfer, std::span<std::uint8_t> out);

}  // namespace quarterturn::media
