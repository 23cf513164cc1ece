#pragma once
/// The landmarks as the finder of holds wants them: main joints in body heights, hidden ones left out.
#include "body/course.hpp"
#include "body/facing.hpp"
#include "posing/joints.hpp"

namespace quarterturn::posing {

/// One entry per frame in which somebody was seen. Positions are divided by the body's height over the clip; z is 0.
/// A joint that is hidden is a guess that wanders, so it is left out: it comes in when it is seen better than 0.6 and
/// goes out below 0.35, so that it does not come and go within a hold. Spikes and jumps from one picture to the next
/// are taken out, and in profile, where the network now and then swaps left and right, a pair of joints keeps its
/// places.
[[nodiscard]] JointSeries joints_of(const body::BodyCourse& course, const body::FacingSeries& facing);

/// The same with joints that the network finds in another place from one picture to the next, at rest before and after,
/// kept where they were: for speeds. Their places drift over time.
[[nodiscard]] JointSeries without_jumps(JointSeries joints);

/// Holds by the joints: the generic finder with these two, and settings as the picture sees them.
[[nodiscard]] std::vector<StillStretch> still_stretches_of(const JointSeries& joints,
                                                           const HoldSettings& settings = {});

/// The definition's speed is one in space; the picture shows its part across the line of sight, on average pi / 4 of
/// it.
[[nodiscard]] HoldSettings in_the_picture(HoldSettings settings);

}  // namespace quarterturn::posing
