#include "media/slow_motion.hpp"

#include <cmath>

namespace quarterturn::media {
namespace {

constexpr double same_rate = 0.05;  // 29.97 against 30, or a phone's uneven clock
constexpr double least_rate = 20;   // films and phones record at 24 and more
constexpr double most_rate = 1000;
constexpr double most_slowing = 40;  // 960 stored at 24

}  // namespace

TrueSpeed true_speed(const ClipInfo& info) {
    const double stored = info.average_rate;
    if (!(stored > 0) || !std::isfinite(stored)) return {};
    if (info.capture_rate) {
        const double scale = stored / *info.capture_rate;
        if (std::abs(scale - 1) <= same_rate) return {1.0, SpeedSource::tag};
        if (!(scale >= 1 / most_slowing) || !(scale <= most_slowing)) return {};
        return {scale, SpeedSource::tag};
    }
    if (stored < least_rate || stored > most_rate) return {};
    return {1.0, SpeedSource::rate};
}

}  // namespace quarterturn::media
