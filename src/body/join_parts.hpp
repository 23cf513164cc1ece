#pragma once
/// Joining neighbouring parts of a clip that were read on their own.
#include <span>
#include <vector>

#include "body/landmark_series.hpp"

namespace quarterturn::body {

/// The pictures one part gave, its warm-up first.
struct PartFrames {
    std::vector<LandmarkFrame> frames;
    std::size_t warm_up = 0;  ///< how many of `frames` are warm-up: the part before has read these pictures too
};

/// One list, each picture once. Where a held pose runs across the cut, the later part's region differs a little from
/// the earlier one's, which moves its joints by a constant: that constant, the mean difference over the pictures both
/// have read, is taken off until the later part's region or the posture changes, so that the cut does not look like a
/// movement. A joint further apart than a region can make it (0.05 sides) was misread by one of the two and is left.
[[nodiscard]] std::vector<LandmarkFrame> join_parts(std::span<const PartFrames> parts);

}  // namespace quarterturn::body
