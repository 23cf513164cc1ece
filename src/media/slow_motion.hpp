#pragma once
/// How a clip's own time relates to the time of the day it was filmed on.
#include <optional>

#include "media/probe.hpp"

namespace quarterturn::media {

enum class SpeedSource {
    tag,     ///< the camera wrote how fast it filmed
    rate,    ///< an ordinary rate, or a fast one stored as filmed: the clip plays in true time
    unknown  ///< ask the person
};

struct TrueSpeed {
    /// True seconds per second of the clip: 1 plays in true time, 0.125 is filmed at 240 and stored at 30 pictures per
    /// second. Absent when unknown.
    std::optional<double> scale;
    SpeedSource source = SpeedSource::unknown;
};

/// From the tag for the filming rate and the rate the pictures are stored at:
///   tag present                      -> stored rate / filming rate, 1 when they agree within 5 %
///   no tag, 20 to 1000 per second    -> 1. A clip slowed down before it was passed on looks like this too; nothing in
///   the
///                                       file tells, so the person can correct it
///   slower than 20 without a tag (time lapse, slide show), no rate, or a tag that would mean a clip sped up or slowed
///   down more than 40 times          -> unknown
/// Limits are common practice, no source.
[[nodiscard]] TrueSpeed true_speed(const ClipInfo& info);

}  // namespace quarterturn::media
