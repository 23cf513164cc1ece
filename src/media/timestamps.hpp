#pragma once
/// Which timestamp a decoded picture gets. One rule for every reader, so that they agree. Private to this room.
#include <cstdint>
#include <optional>

#include "media/libav.hpp"

namespace quarterturn::media {

/// libav's best-effort timestamp. A picture without one (AVI's last) follows the picture before it at the usual
/// distance; one that goes back in time (damage) comes one tick after it. So timestamps always increase.
class Timestamps {
  public:
    /// @param usual_distance  ticks between pictures, at least 1
    explicit Timestamps(std::int64_t usual_distance) : usual_distance_(usual_distance) {}

    [[nodiscard]] std::int64_t next(const AVFrame& frame);

  private:
    std::int64_t usual_distance_;
    std::optional<std::int64_t> last_;
};

/// Ticks between pictures by the stream's average rate; a thirtieth of a second when it has none.
[[nodiscard]] std::int64_t usual_distance(const AVStream& stream);

}  // namespace quarterturn::media
