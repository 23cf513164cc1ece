#pragma once
/// Decoded pictures near the one looked at, within a byte budget. Private to this room.
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>

#include "media/picture.hpp"

namespace quarterturn::media {

class PictureCache {
  public:
    explicit PictureCache(std::size_t budget_bytes) : budget_(budget_bytes) {}

    /// Keeps `picture`. While the budget is exceeded the picture furthest in time from `focus` goes, but never the
    /// last.
    void keep(const Picture& picture, std::int64_t focus);
    [[nodiscard]] std::optional<Picture> find(std::int64_t pts) const;
    [[nodiscard]] std::size_t bytes() const { return bytes_; }
    /// How many pictures of this size the budget holds, at least 1.
    [[nodiscard]] std::size_t room_for(std::size_t picture_bytes) const;

  private:
    std::map<std::int64_t, Picture> pictures_;
    std::size_t bytes_ = 0;
    std::size_t budget_;
};

}  // namespace quarterturn::media
