#pragma once
/// How fast the whole body moves over the floor: what tells walking from turning on the spot.
#include <optional>
#include <vector>

#include "body/course.hpp"
#include "posing/foot_steps.hpp"
#include "posing/still_stretches.hpp"

namespace quarterturn::posing {

/// Where she stands, body heights, seen from above: x across the picture, z towards the phone, from where the middle of
/// the picture would be at the clip's median distance. The distance is told by how tall she looks; it needs the phone's
/// field of view, taken as 44 degrees upright (phones have 40 to 60 in film mode, from memory), so z may be a third
/// off.
struct FloorPlace {
    double t_s = 0, x = 0, z = 0;
};

/// One entry per frame in which somebody was seen; steadied over about 0.8 s.
[[nodiscard]] std::vector<FloorPlace> floor_places(const body::BodyCourse& course);

struct WalkSettings {
    double walking_speed = 0.20;  ///< body heights per second over the floor
    double least_way = 0.30;      ///< body heights along the path
    double slow_speed = 0.12;     ///< enough where the feet are seen to step
    double step_way = 0.18;       ///< body heights from end to end, where two steps in turn are seen
    double joins_within_s = 0.5;  ///< walking that pauses shorter goes on
};

/// Stretches of walking within `gap`, in order: fast and far enough over the floor, or slower and shorter with steps of
/// one foot after the other. Where steps are seen a walk is from the lifting of its first to the landing of its last;
/// steps that go much less far than the walk's longest belong to the turn before or after it.
[[nodiscard]] std::vector<Stretch> walks_in(const std::vector<FloorPlace>& places, std::span<const FootSwing> swings,
                                            const Stretch& gap, const WalkSettings& settings = {});

/// Length of the path over the floor, body heights.
[[nodiscard]] double path_length(const std::vector<FloorPlace>& places, const Stretch& stretch);

}  // namespace quarterturn::posing
