#include "media/picture_cache.hpp"

#include <algorithm>

namespace quarterturn::media {
namespace {

std::uint64_t apart(std::int64_t a, std::int64_t b) {
    return static_cast<std::uint64_t>(std::max(a, b)) - static_cast<std::uint64_t>(std::min(a, b));
}

}  // namespace

void PictureCache::keep(const Picture& picture, std::int64_t focus) {
    if (!pictures_.emplace(picture.pts, picture).second) return;
    bytes_ += picture.bytes();
    while (bytes_ > budget_ && pictures_.size() > 1) {
        const auto first = pictures_.begin();
        const auto last = std::prev(pictures_.end());
        const auto gone = apart(first->first, focus) >= apart(last->first, focus) ? first : last;
        bytes_ -= gone->second.bytes();
        pictures_.erase(gone);
    }
}

std::optional<Picture> PictureCache::find(std::int64_t pts) const {
    const auto found = pictures_.find(pts);
    if (found == pictures_.end()) return std::nullopt;
    return found->second;
}

std::size_t PictureCache::room_for(std::size_t picture_bytes) const {
    return std::max<std::size_t>(1, budget_ / std::max<std::size_t>(1, picture_bytes));
}

}  // namespace quarterturn::media
