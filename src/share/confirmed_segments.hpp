#pragma once
/// A clip's segments as they stand: measured, with a person's corrections laid over them.
#include <optional>
#include <span>
#include <vector>

#include "base/media_time.hpp"
#include "journal/hold_correction.hpp"
#include "posing/analysis.hpp"

namespace quarterturn::share {

struct SegmentView {
    /// As it stands. Where a person changed the bounds, the measures of the old bounds are absent with that reason.
    posing::Segment now;
    /// As measured, where a person changed it; absent for unchanged ones and for holds a person added.
    std::optional<posing::Segment> measured;
    bool corrected = false;       ///< a person changed or added it
    bool pose_by_person = false;  ///< the pose is what a person said; then it has no PoseSource and confidence 1
    [[nodiscard]] bool is_hold() const { return now.kind == posing::SegmentKind::hold; }
    [[nodiscard]] bool is_hold_of(const std::string& pose) const { return is_hold() && now.pose == pose; }
};

/// @param corrections  of this clip, in any order of kinds; see journal/corrected_segments.hpp
/// @return ordered, not overlapping
[[nodiscard]] std::vector<SegmentView> confirmed_segments(const posing::Analysis& analysis,
                                                          std::span<const journal::HoldCorrection> corrections);

/// True seconds from the clip's first picture to a moment of the film (slow motion taken into account).
[[nodiscard]] double true_seconds(const posing::ClipFacts& clip, const MediaTime& moment);

}  // namespace quarterturn::share
