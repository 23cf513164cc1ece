#include "media/timestamps.hpp"

#include <algorithm>

namespace quarterturn::media {

std::int64_t Timestamps::next(const AVFrame& frame) {
    const std::int64_t best = frame.best_effort_timestamp;
    std::int64_t pts = best == AV_NOPTS_VALUE ? 0 : best;
    if (last_ && best == AV_NOPTS_VALUE) pts = *last_ + usual_distance_;
    if (last_ && pts <= *last_) pts = *last_ + 1;
    last_ = pts;
    return pts;
}

std::int64_t usual_distance(const AVStream& stream) {
    const bool known = stream.avg_frame_rate.num > 0 && stream.avg_frame_rate.den > 0;
    const AVRational length = known ? av_inv_q(stream.avg_frame_rate) : AVRational{1, 30};
    return std::max<std::int64_t>(1, av_rescale_q(1, length, stream.time_base));
}

}  // namespace quarterturn::media
