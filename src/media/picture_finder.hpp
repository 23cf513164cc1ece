#pragma once
/// Finds pictures by decoding as little as possible and keeps what it decoded on the way. Private to this room.
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "media/packet_names.hpp"
#include "media/picture_cache.hpp"
#include "media/seeking_decoder.hpp"

namespace quarterturn::media {

class PictureFinder {
  public:
    PictureFinder(SeekingDecoder decoder, std::size_t cache_bytes)
        : decoder_(std::move(decoder)), cache_(cache_bytes) {}

    /// How a picture is approached, which says what will probably be wanted next.
    enum class Approach {
        forwards,   ///< the pictures after it
        backwards,  ///< the pictures before it: all that the cache can hold of them are decoded too
        jump        ///< unknown: only this picture, as soon as possible
    };

    /// From now on only pictures of these ranks (one for each picture of the index) are asked for; those between that
    /// no other picture needs are not decoded.
    void want_only(std::vector<bool> ranks) { wanted_ = std::move(ranks); }

    /// With an index: the picture of this rank. nullopt: it cannot be decoded.
    [[nodiscard]] std::optional<Picture> of_rank(const PacketNames& names, std::size_t rank, Approach approach);

    /// Without an index: the picture on screen at `pts`, the first one before the first. nullopt: nothing can be
    /// decoded.
    [[nodiscard]] std::optional<Picture> at_or_before(std::int64_t pts);
    /// Without an index: the picture after the one with this timestamp.
    [[nodiscard]] std::optional<Picture> after(std::int64_t pts);

    [[nodiscard]] const PictureCache& cache() const { return cache_; }
    [[nodiscard]] const Source& source() const { return decoder_.source(); }

  private:
    [[nodiscard]] bool may_continue(const PacketNames& names, std::size_t rank) const;
    [[nodiscard]] std::optional<Picture> decode_to(const PacketNames& names, std::int64_t pts,
                                                   const SeekingDecoder::Wish& wish);
    [[nodiscard]] bool may_end_early(const PacketNames& names) const;
    [[nodiscard]] std::optional<Picture> start_and_decode(const std::function<bool()>& start, const PacketNames& names,
                                                          std::int64_t pts, SeekingDecoder::Wish wish);
    [[nodiscard]] std::optional<Picture> decode_one(std::int64_t focus);

    SeekingDecoder decoder_;
    PictureCache cache_;
    std::optional<std::int64_t> position_;            ///< the picture the decoder gave last
    std::set<std::int64_t> unreadable_;               ///< tried in vain
    std::map<std::int64_t, std::int64_t> followers_;  ///< without an index: which picture comes after which
    std::size_t picture_bytes_ = 0;
    std::vector<bool> wanted_;  ///< by rank; empty: any
};

}  // namespace quarterturn::media
