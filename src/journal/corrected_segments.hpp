#pragma once
/// A clip's measured segments with a person's corrections laid over them.
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "journal/hold_correction.hpp"

namespace quarterturn::journal {

/// What corrections need to know of a segment; journal does not know the analysis itself.
struct SegmentSpan {
    PtsRange range;
    bool is_hold = false;
    std::optional<std::string> pose;
    /// Place in the measured list; absent for a part a person added. Both parts of a split keep it.
    std::optional<std::size_t> measured;
    bool corrected = false;  ///< a person changed it, so its measured numbers are of the old bounds or another pose
    bool operator==(const SegmentSpan&) const = default;
};

/// Applies the corrections of one clip (removed ones are skipped) in the order of their ids, which is the order of
/// making. A correction whose hold is no longer there does nothing. A removed hold becomes a stretch that is no hold.
/// Bounds of a corrected hold win over its neighbours: those are cut back, or dropped when nothing is left of them.
/// @param measured  ordered, not overlapping; `measured` and `corrected` of the input are set here
/// @return ordered, not overlapping
[[nodiscard]] std::vector<SegmentSpan> corrected_segments(std::vector<SegmentSpan> measured,
                                                          std::span<const HoldCorrection> corrections);

}  // namespace quarterturn::journal
