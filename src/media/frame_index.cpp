#include "media/frame_index.hpp"

#include <algorithm>

namespace quarterturn::media {
namespace {

/// The first picture later than `pts`.
auto first_after(const std::vector<IndexEntry>& pictures, std::int64_t pts) {
    return std::upper_bound(pictures.begin(), pictures.end(), pts,
                            [](std::int64_t value, const IndexEntry& entry) { return value < entry.pts; });
}

/// Distance that cannot overflow.
std::uint64_t apart(std::int64_t earlier, std::int64_t later) {
    return static_cast<std::uint64_t>(later) - static_cast<std::uint64_t>(earlier);
}

}  // namespace

std::optional<std::size_t> FrameIndex::rank_of(std::int64_t pts) const {
    const auto rank = rank_at(pts);
    if (!rank || pictures[*rank].pts != pts) return std::nullopt;
    return rank;
}

std::optional<std::size_t> FrameIndex::rank_at(std::int64_t pts) const {
    if (pictures.empty()) return std::nullopt;
    const auto after = static_cast<std::size_t>(first_after(pictures, pts) - pictures.begin());
    return after == 0 ? 0 : after - 1;
}

std::optional<std::size_t> FrameIndex::rank_nearest(std::int64_t pts) const {
    const auto rank = rank_at(pts);
    if (!rank || pictures[*rank].pts >= pts || *rank + 1 == pictures.size()) return rank;
    const bool later_is_nearer = apart(pts, pictures[*rank + 1].pts) < apart(pictures[*rank].pts, pts);
    return later_is_nearer ? *rank + 1 : *rank;
}

double FrameIndex::duration_s() const {
    if (pictures.size() < 2) return 0;
    std::vector<std::int64_t> distances;
    distances.reserve(pictures.size() - 1);
    for (std::size_t i = 1; i < pictures.size(); ++i) distances.push_back(pictures[i].pts - pictures[i - 1].pts);
    const auto middle = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() / 2);
    std::nth_element(distances.begin(), middle, distances.end());
    return seconds_between(pictures.front().pts, pictures.back().pts, time_base) +
           seconds_between(0, *middle, time_base);
}

}  // namespace quarterturn::media
