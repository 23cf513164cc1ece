#pragma once
/// Brings the earlier picture's exposure and white balance to the later one's, on request: what the phone and the lamp
/// did. It takes away some of what tan and oil did too, so it is never done unasked.
#include <array>
#include <optional>

#include "compare/alignment.hpp"
#include "media/image.hpp"

namespace quarterturn::compare {

/// Factors for red, green and blue in linear light.
using LightGains = std::array<double, 3>;

/// Median over median of the light on legs and upper arms, channel by channel: the same skin in both, whatever the
/// room.
/// Each within 1/4 .. 4.
/// @param now, before  upright pictures, mirrored back where the film is; any size, the course's shape
/// @param scale_now    image pixels per course pixel
/// @return nullopt where they are not seen in one of them
[[nodiscard]] std::optional<LightGains> match_light(const media::Image& now, const StillBody& now_body,
                                                    double scale_now, const media::Image& before,
                                                    const StillBody& before_body, double scale_before);

/// sRGB (IEC 61966-2-1) to light, times the gains, and back; clipped at white.
void apply_light(media::Image& image, const LightGains& gains);

}  // namespace quarterturn::compare
