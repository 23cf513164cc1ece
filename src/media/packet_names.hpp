#pragma once
/// Which picture of the index a packet makes. Private to this room.
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "media/frame_index.hpp"
#include "media/libav.hpp"

namespace quarterturn::media {

/// Looks packets up by their timestamp, or by their place in the file where they have none.
class PacketNames {
  public:
    explicit PacketNames(std::shared_ptr<const FrameIndex> index);

    /// Rank of the picture this packet makes; nullopt for packets of hidden or unknown pictures.
    [[nodiscard]] std::optional<std::size_t> rank_of(const AVPacket& packet) const;
    [[nodiscard]] const FrameIndex& index() const { return *index_; }

    /// Ranks of the key pictures from which the picture `rank` can be decoded, nearest first: those shown not later and
    /// decoded not later. At most `count`.
    [[nodiscard]] std::vector<std::size_t> keys_before(std::size_t rank, std::size_t count) const;

  private:
    std::shared_ptr<const FrameIndex> index_;
    std::vector<std::size_t> by_position_;  ///< ranks in the order of file positions
    std::vector<std::size_t> keys_;         ///< ranks of key pictures
};

}  // namespace quarterturn::media
