#pragma once
/// Where one posture is kept: the one finder of holds, whatever measured the movement.
///
/// A movement is a stretch in which the fastest part of the body exceeds `movement_speed`. It ends what was held only
/// if the posture after it differs from the one before; sway, twist and tremor that return belong to the hold. One that
/// was passed slowly earlier in the hold is back, too. A dip of the speed that is too shallow to part two movements is
/// a rest where the posture is clearly back in it (within 40 % of `posture_change`).
///
///     speed      ____/\____________/\/\______________/~~~~~~\______
///     posture       (same)        (same)             (another)
///     stretches  [------------- one --------------]          [-- another --
///
/// Bounds are where that movement begins and the one before ended: the speed's crossing of `movement_speed`,
/// interpolated between samples; drawn in by without_slow_end() where `slow_share` is below 1.
#include <functional>
#include <optional>
#include <vector>

namespace quarterturn::posing {

struct HoldSettings {
    double min_hold_s = 1.0;          ///< shorter ones are no holds
    double movement_speed = 0.08;     ///< body heights per second
    double posture_change = 0.03;     ///< body heights some joint moved against the others
    double hysteresis = 0.75;         ///< a dip that stays above this share of movement_speed does not part a movement
    double min_still_s = 0.1;         ///< a shorter rest belongs to the movements around it
    double sure_still_s = 0.15;       ///< the posture of a shorter one has to agree within 60 % of posture_change
    double return_within_s = 2.5;     ///< a posture that comes back within this time was kept
    double excursion = 0.12;          ///< body heights: a long movement that strays further does not count as returning
    double facing_change_deg = 12.0;  ///< facings further apart are another posture
    double slow_share = 1.0;          ///< see slow_end.hpp; 1: bounds lie at movement_speed
};

/// Seconds, start <= end.
struct Stretch {
    double start_s = 0;
    double end_s = 0;
    [[nodiscard]] double duration_s() const { return end_s - start_s; }
};

/// Movement over time: the fastest part of the body in body heights per second, already smoothed without phase shift.
struct SpeedSeries {
    std::vector<double> t_s;                   ///< strictly increasing
    std::vector<std::optional<double>> speed;  ///< as long as t_s; absent where nobody can be measured
};

/// How far the postures of two stretches are apart, in body heights: the largest movement of a part of the body against
/// the others. Absent: cannot be told, which counts as another posture.
using PostureDistance = std::function<std::optional<double>(const Stretch& before, const Stretch& after)>;

struct StillStretch {
    Stretch bounds;
    std::vector<Stretch> returned;  ///< movements within it that came back to the same posture
};

/// Stretches of at least `min_hold_s` in which one posture is kept, in order, never overlapping or touching.
[[nodiscard]] std::vector<StillStretch> find_still_stretches(const SpeedSeries& speed, const PostureDistance& distance,
                                                             const HoldSettings& settings = {});

/// The part of `stretch` that shows its posture best when looking back from a movement that follows (`late`) or ahead
/// from one that came before: 0.2 to 0.6 s away from the movement, where its slow beginning and end are over.
[[nodiscard]] Stretch settled_part(const Stretch& stretch, bool late);

}  // namespace quarterturn::posing
