#pragma once
/// Which pictures of a clip are looked at, and how a long clip is cut into parts that can be worked on side by side.
/// Both depend on the clip alone, so results are the same whatever the number of jobs.
#include <cstddef>
#include <vector>

#include "media/frame_index.hpp"

namespace quarterturn::body {

/// Ranks of the pictures to look at: the first one in every 1/rate_hz seconds, all of them in a slower clip.
[[nodiscard]] std::vector<std::size_t> sampled_ranks(const media::FrameIndex& index, double rate_hz);

/// One part, in positions of the list of sampled pictures:
///
///     part 0  |==================>----|
///     part 1                     |~~~~>=================>----|      ~ warming up, - still reading on
///
/// From `hand_over` on the part's own results count; until then it warms up while the part before still reads.
struct ClipPart {
    std::size_t first = 0;      ///< where reading begins
    std::size_t hand_over = 0;  ///< the first picture that counts; same as `first` in the first part
    std::size_t end = 0;        ///< one past the last picture that counts: the next part's hand_over
};

struct PartSettings {
    double part_s = 20;      ///< wanted length
    double warm_up_s = 0.8;  ///< long enough for the region to settle
};

/// One part for a short clip, else an even number (so that two jobs share the work evenly), cut at the key frame
/// nearest to an even division, or between key frames where none is near.
[[nodiscard]] std::vector<ClipPart> plan_parts(const media::FrameIndex& index, const std::vector<std::size_t>& sampled,
                                               PartSettings settings = {});

}  // namespace quarterturn::body
