#pragma once
/// The slow beginning of a movement, where it is seen from one side only.
#include "posing/still_stretches.hpp"

namespace quarterturn::posing {

/// A movement that begins towards the phone is hardly seen there, so that the hold before it seems to last into it. Its
/// end is drawn in to where the speed crosses `slow_share` of `movement_speed` (interpolated), by at most 0.4 s, never
/// below `min_hold_s`, and never to a level within 1.5 times the unrest of the hold before it (the 80th percentile of
/// its last part): what sways to its end does not end sooner. An end beside pictures without a speed, or of the series,
/// stays. Movements come to rest more briskly: beginnings of holds stay as well (drawn in, they were no nearer to the
/// truth).
[[nodiscard]] Stretch without_slow_end(const Stretch& hold, const SpeedSeries& speed, const HoldSettings& settings);

}  // namespace quarterturn::posing
