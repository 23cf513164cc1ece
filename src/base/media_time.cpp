#include "base/media_time.hpp"

#include <cmath>
#include <limits>

namespace quarterturn {
namespace {

__extension__ using Wide = __int128;

std::int64_t saturated(Wide value) {
    constexpr auto low = std::numeric_limits<std::int64_t>::min();
    constexpr auto high = std::numeric_limits<std::int64_t>::max();
    if (value < low) return low;
    if (value > high) return high;
    return static_cast<std::int64_t>(value);
}

}  // namespace

std::weak_ordering operator<=>(const MediaTime& a, const MediaTime& b) {
    // num and den come from the container as 32-bit numbers, so pts * num * den fits in 63 + 31 + 31 bits.
    const Wide left = Wide{a.pts} * a.base.num * b.base.den;
    const Wide right = Wide{b.pts} * b.base.num * a.base.den;
    if (left < right) return std::weak_ordering::less;
    if (left > right) return std::weak_ordering::greater;
    return std::weak_ordering::equivalent;
}

double seconds_for_display(const MediaTime& time) {
    return static_cast<double>(time.pts) * static_cast<double>(time.base.num) / static_cast<double>(time.base.den);
}

double seconds_between(std::int64_t from, std::int64_t to, TimeBase base) {
    const Wide ticks = Wide{to} - from;
    return static_cast<double>(ticks) * static_cast<double>(base.num) / static_cast<double>(base.den);
}

std::int64_t nearest_tick(double seconds, TimeBase base, std::int64_t origin) {
    const double ticks = std::ceil(seconds * static_cast<double>(base.den) / static_cast<double>(base.num) - 0.5);
    constexpr double limit = 9.2e18;
    if (std::isnan(ticks)) return origin;
    if (ticks >= limit) return std::numeric_limits<std::int64_t>::max();
    if (ticks <= -limit) return std::numeric_limits<std::int64_t>::min();
    return saturated(Wide{static_cast<std::int64_t>(ticks)} + origin);
}

std::int64_t rescale(std::int64_t ticks, TimeBase from, TimeBase to) {
    const Wide numerator = Wide{ticks} * from.num * to.den;
    const Wide denominator = Wide{from.den} * to.num;
    const Wide half = denominator / 2;
    return saturated(numerator >= 0 ? (numerator + half) / denominator : (numerator - half) / denominator);
}

}  // namespace quarterturn
