#pragma once
/// Steps: a foot that lifts, moves and lands.
///
/// A planted foot stays where it is in the picture while the body moves over it. While one foot swings, the other
/// stands: a step is a stretch in which one foot (the mean speed of its ankle and heel over about 0.3 s) is clearly
/// faster than the other. That finds the long swings of a walk, across the picture and (because the phone looks down
/// on the floor) towards it, and the small lifts of a turn on the spot, where a foot goes up and down.
#include <span>
#include <vector>

#include "body/course.hpp"
#include "posing/foot_places.hpp"
#include "posing/step_timing.hpp"
#include "posing/still_stretches.hpp"

namespace quarterturn::posing {

struct StepSettings {
    double lift_speed = 0.045;  ///< body heights per second, mean over the window
    double faster = 1.2;        ///< than the other foot
    double window_s = 0.15;     ///< to either side
    double shortest_s = 0.06;   ///< of a swing
    double longest_s = 0.9;     ///< of one swing; a longer stretch is no step
    double one_swing_s = 0.6;   ///< a longer one with a rest in it is two steps of the same foot
    double least_part_s = 0.2;  ///< either side of that rest
    double same_step_s = 0.14;  ///< a shorter rest belongs to the swing: a foot is still at its highest point
    double seen_enough = 0.25;
};

struct FootSwing {
    Foot foot = Foot::left;
    double lift_s = 0, land_s = 0;
    double middle_s = 0;  ///< when half of the way was done: see step_time
    double error_s = 0;   ///< of the middle, one standard deviation as the fit has it
    double way = 0;       ///< body heights from where it lifted to where it landed, in the picture
};

/// In order of landing.
[[nodiscard]] std::vector<FootSwing> foot_swings(const body::BodyCourse& course, const StepSettings& settings = {});

/// Swings that land within the stretch.
[[nodiscard]] std::vector<FootSwing> landings_in(std::span<const FootSwing> swings, const Stretch& stretch);

/// Share of the pictures in the stretch in which both feet are seen, 0..1.
[[nodiscard]] double feet_seen(const body::BodyCourse& course, const Stretch& stretch,
                               const StepSettings& settings = {});

}  // namespace quarterturn::posing
