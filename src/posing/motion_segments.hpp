#pragma once
/// Holds, transitions and pauses as stretches of time, from movement alone.
#include <vector>

#include "body/motion.hpp"
#include "posing/analyse.hpp"

namespace quarterturn::posing {

struct TimedSegment {
    SegmentKind kind = SegmentKind::pause;
    Stretch bounds;
};

/// In order, never overlapping. Between the first and the last hold everything is a hold, a transition or a pause, but
/// for walking about; before and after, where she comes from the phone and goes back to it, there is nothing.
[[nodiscard]] std::vector<TimedSegment> segments_of(const body::MotionSeries& motion, const AnalyseSettings& settings);

}  // namespace quarterturn::posing
