#pragma once
/// The definition of a hold, applied to true joints: a movement is a stretch in which the fastest main joint, smoothed
/// without phase shift over about 0.2 s, is faster than 0.08 body heights per second; it ends a hold only if the
/// posture after it differs from the one before (a main joint moved by more than 3 % of body height against the
/// others, or the facing changed). What comes back belongs to the hold.
#include <vector>

#include "timeline.hpp"

namespace quarterturn::sample {

struct Kept {
    double start_s = 0, end_s = 0;
    [[nodiscard]] double duration_s() const { return end_s - start_s; }
};

/// Every stretch in which one posture is kept, however short, in order.
[[nodiscard]] std::vector<Kept> kept_postures(const Timeline& timeline);

}  // namespace quarterturn::sample
