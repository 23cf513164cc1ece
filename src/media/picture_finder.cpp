#include "media/picture_finder.hpp"

#include <algorithm>

namespace quarterturn::media {
namespace {

/// How many key pictures are tried before a picture counts as unreadable.
constexpr std::size_t key_tries = 3;
/// Decoding this many pictures on costs less than a seek.
constexpr std::size_t cheap_steps = 8;

}  // namespace

/// Whether going on from where the decoder stands is cheaper than starting at the last key picture before the target.
bool PictureFinder::may_continue(const PacketNames& names, std::size_t rank) const {
    const std::vector<IndexEntry>& pictures = names.index().pictures;
    if (!position_ || *position_ >= pictures[rank].pts) return false;
    const std::optional<std::size_t> here = names.index().rank_of(*position_);
    if (!here) return false;
    if (rank - *here <= cheap_steps) return true;
    const std::vector<std::size_t> key = names.keys_before(rank, 1);
    return key.empty() || key.front() <= *here;
}

std::optional<Picture> PictureFinder::decode_to(const PacketNames& names, std::int64_t pts,
                                                const SeekingDecoder::Wish& wish) {
    while (std::optional<Picture> picture = decoder_.next(&names, wish)) {
        position_ = wish.end_with ? std::nullopt : std::optional{picture->pts};
        picture_bytes_ = picture->bytes();
        cache_.keep(*picture, pts);
        if (picture->pts == pts) return picture;
        if (picture->pts > pts) return std::nullopt;
    }
    position_.reset();
    return std::nullopt;
}

/// Whether a decoder gives out all it has when it is told that nothing follows. libdav1d (AV1) with threads does not,
/// and without timestamps of their own packets may hold half a picture.
bool PictureFinder::may_end_early(const PacketNames& names) const {
    return names.index().timed_packets && decoder_.source().stream()->codecpar->codec_id != AV_CODEC_ID_AV1;
}

/// Starts, decodes to the picture, and does it again without ending early or leaving out where that was not enough: a
/// decoder told to end may keep back a picture next to hidden ones.
std::optional<Picture> PictureFinder::start_and_decode(const std::function<bool()>& start, const PacketNames& names,
                                                       std::int64_t pts, SeekingDecoder::Wish wish) {
    position_.reset();
    if (!start()) return std::nullopt;
    std::optional<Picture> found = decode_to(names, pts, wish);
    if (found || (!wish.end_with && wish.only == nullptr)) return found;
    wish.end_with.reset();
    wish.only = nullptr;
    position_.reset();
    return start() ? decode_to(names, pts, wish) : std::nullopt;
}

std::optional<Picture> PictureFinder::of_rank(const PacketNames& names, std::size_t rank, Approach approach) {
    const std::vector<IndexEntry>& pictures = names.index().pictures;
    const std::int64_t pts = pictures[rank].pts;
    if (std::optional<Picture> kept = cache_.find(pts)) return kept;
    if (unreadable_.contains(pts)) return std::nullopt;
    const std::size_t room = approach == Approach::backwards ? cache_.room_for(picture_bytes_) : 1;
    SeekingDecoder::Wish wish{pictures[rank + 1 > room ? rank + 1 - room : 0].pts};
    const bool in_order = wanted_.size() == pictures.size();
    // Without timestamps of their own packets may hold more than the picture they are named after.
    if (in_order && names.index().timed_packets) wish.only = &wanted_;
    if (may_continue(names, rank)) {
        if (std::optional<Picture> found = decode_to(names, pts, wish)) return found;
        wish.only = nullptr;
    }
    if (!in_order && approach != Approach::forwards && may_end_early(names)) wish.end_with = pts;
    const std::vector<std::size_t> keys = names.keys_before(rank, key_tries);
    for (const std::size_t key : keys)
        if (std::optional<Picture> found =
                start_and_decode([&] { return decoder_.start_at_key(names, key); }, names, pts, wish))
            return found;
    if (keys.size() < key_tries)
        if (std::optional<Picture> found =
                start_and_decode([&] { return decoder_.start_at_beginning(); }, names, pts, wish))
            return found;
    unreadable_.insert(pts);
    return std::nullopt;
}

/// One picture on; remembers its predecessor, which is certain because nothing was left out.
std::optional<Picture> PictureFinder::decode_one(std::int64_t focus) {
    std::optional<Picture> picture = decoder_.next(nullptr, {});
    if (!picture) {
        position_.reset();
        return std::nullopt;
    }
    if (position_ && *position_ < picture->pts) followers_[*position_] = picture->pts;
    position_ = picture->pts;
    picture_bytes_ = picture->bytes();
    cache_.keep(*picture, focus);
    return picture;
}

std::optional<Picture> PictureFinder::at_or_before(std::int64_t pts) {
    const std::int64_t second = av_rescale_q(1, AVRational{1, 1}, decoder_.source().stream()->time_base);
    std::optional<Picture> best;
    if (position_ && *position_ <= pts && pts - *position_ <= second) best = cache_.find(*position_);
    if (!best) {
        position_.reset();
        if (!decoder_.start_before(pts)) return std::nullopt;
    }
    while (!best || best->pts < pts) {
        std::optional<Picture> picture = decode_one(pts);
        if (!picture) break;
        if (best && picture->pts > pts) break;
        best = std::move(picture);
    }
    return best;
}

std::optional<Picture> PictureFinder::after(std::int64_t pts) {
    if (const auto known = followers_.find(pts); known != followers_.end())
        if (std::optional<Picture> kept = cache_.find(known->second)) return kept;
    if (position_ != pts) {
        position_.reset();
        if (!decoder_.start_before(pts)) return std::nullopt;
    }
    while (std::optional<Picture> picture = decode_one(pts))
        if (picture->pts > pts) return picture;
    return std::nullopt;
}

}  // namespace quarterturn::media
