#pragma once
/// Exact media time. A picture is known by (clip, pts, time base) as the container gave them; a trip through float
/// seconds changes the tick of a fifth of all pictures within minutes, so seconds are for display and statistics only.
#include <compare>
#include <cstdint>

namespace quarterturn {

/// Length of one tick in seconds: num / den, both > 0.
struct TimeBase {
    std::int64_t num = 1;
    std::int64_t den = 1;
    bool operator==(const TimeBase&) const = default;
};

struct MediaTime {
    std::int64_t pts = 0;  ///< ticks, may be negative
    TimeBase base;
};

/// Compares instants, also across time bases, without rounding (cross-multiplied in 128 bits). Weak: 1 tick of 1/1 and
/// 90000 ticks of 1/90000 are equivalent without being the same. Holds for |pts| < 2^63 and num, den < 2^31.
[[nodiscard]] std::weak_ordering operator<=>(const MediaTime& a, const MediaTime& b);
[[nodiscard]] inline bool operator==(const MediaTime& a, const MediaTime& b) {
    return std::is_eq(a <=> b);
}

/// Seconds from tick 0.
[[nodiscard]] double seconds_for_display(const MediaTime& time);

/// Seconds from `from` to `to`, two ticks of the same base: the difference is taken in ticks, so it is exact to one
/// rounding even far from zero.
[[nodiscard]] double seconds_between(std::int64_t from, std::int64_t to, TimeBase base);

/// The tick nearest to `seconds` after `origin`; ties go to the earlier tick. Saturates at the ends of int64.
[[nodiscard]] std::int64_t nearest_tick(double seconds, TimeBase base, std::int64_t origin = 0);

/// `ticks` of `from` expressed in `to`, rounded to nearest, ties away from zero. Saturates.
[[nodiscard]] std::int64_t rescale(std::int64_t ticks, TimeBase from, TimeBase to);

}  // namespace quarterturn
