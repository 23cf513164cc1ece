#include "media/packet_names.hpp"

#include <algorithm>

namespace quarterturn::media {

PacketNames::PacketNames(std::shared_ptr<const FrameIndex> index) : index_(std::move(index)) {
    const std::vector<IndexEntry>& pictures = index_->pictures;
    for (std::size_t rank = 0; rank < pictures.size(); ++rank) {
        if (pictures[rank].key) keys_.push_back(rank);
        if (!index_->timed_packets) by_position_.push_back(rank);
    }
    std::sort(by_position_.begin(), by_position_.end(),
              [&](std::size_t a, std::size_t b) { return pictures[a].position < pictures[b].position; });
}

std::optional<std::size_t> PacketNames::rank_of(const AVPacket& packet) const {
    if ((packet.flags & AV_PKT_FLAG_DISCARD) != 0) return std::nullopt;
    if (index_->timed_packets) return packet.pts == AV_NOPTS_VALUE ? std::nullopt : index_->rank_of(packet.pts);
    const std::vector<IndexEntry>& pictures = index_->pictures;
    const auto found =
        std::lower_bound(by_position_.begin(), by_position_.end(), packet.pos,
                         [&](std::size_t rank, std::int64_t position) { return pictures[rank].position < position; });
    if (found == by_position_.end() || pictures[*found].position != packet.pos) return std::nullopt;
    return *found;
}

std::vector<std::size_t> PacketNames::keys_before(std::size_t rank, std::size_t count) const {
    std::vector<std::size_t> result;
    const std::uint32_t order = index_->pictures[rank].order;
    for (auto key = std::upper_bound(keys_.begin(), keys_.end(), rank);
         key != keys_.begin() && result.size() < count;) {
        --key;
        if (index_->pictures[*key].order <= order) result.push_back(*key);
    }
    return result;
}

}  // namespace quarterturn::media
