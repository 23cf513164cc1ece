#include "media/seeking_decoder.hpp"

#include <array>
#include <string_view>

#include "media/picture_from.hpp"
#include "media/temporal_layers.hpp"

namespace quarterturn::media {
namespace {

constexpr std::int64_t trust_all = INT64_MIN;

/// Containers without an index of their own, where libav searches by reading: the byte position is exact and faster.
bool seeks_by_byte(const Source& source) {
    const std::string_view name = source.format->iformat->name;
    return name == "mpegts" || name == "mpeg";
}

/// MP4 and Matroska look for presentation times, the others for decoding times.
bool seeks_by_pts(const Source& source) {
    const std::string_view name = source.format->iformat->name;
    return name.find("mov") != std::string_view::npos || name.find("matroska") != std::string_view::npos;
}

std::int64_t ticks(const Source& source, int seconds) {
    return av_rescale_q(seconds, AVRational{1, 1}, source.stream()->time_base);
}

}  // namespace

SeekingDecoder::SeekingDecoder(std::filesystem::path path, Source source, CodecPtr decoder)
    : path_(std::move(path)), source_(std::move(source)), decoder_(std::move(decoder)) {
    unit_length_bytes_ = unit_length_bytes(*source_.stream()->codecpar);
    trusted_from_ = trust_all;
    packet_waits_ = read_video_packet(source_, *packet_);
    if (!packet_waits_) return;
    first_position_ = packet_->pos;
    first_dts_ = packet_->dts;
}

Result<SeekingDecoder> SeekingDecoder::open(const std::filesystem::path& path, int threads) {
    Result<Source> source = open_source(path);
    if (!source) return source.error();
    Result<CodecPtr> decoder = open_decoder(*source, path, {threads});
    if (!decoder) return decoder.error();
    return SeekingDecoder{path, std::move(source).value(), std::move(decoder).value()};
}

bool SeekingDecoder::seek(std::int64_t timestamp) {
    avcodec_flush_buffers(decoder_.get());
    drained_ = packet_waits_ = false;
    return av_seek_frame(source_.format.get(), source_.video, timestamp, AVSEEK_FLAG_BACKWARD) >= 0;
}

bool SeekingDecoder::seek_to_byte(std::int64_t position) {
    avcodec_flush_buffers(decoder_.get());
    drained_ = packet_waits_ = false;
    return position >= 0 && av_seek_frame(source_.format.get(), source_.video, position, AVSEEK_FLAG_BYTE) >= 0;
}

/// Reads up to the packet of the key picture, which then waits. False when the seek landed behind it.
bool SeekingDecoder::read_up_to(const PacketNames& names, std::size_t key_rank) {
    const std::uint32_t wanted = names.index().pictures[key_rank].order;
    while (read_video_packet(source_, *packet_)) {
        const std::optional<std::size_t> rank = names.rank_of(*packet_);
        if (rank == key_rank) return packet_waits_ = true;
        if (rank && names.index().pictures[*rank].order > wanted) return false;
    }
    return false;
}

bool SeekingDecoder::start_at_key(const PacketNames& names, std::size_t key_rank) {
    const IndexEntry& key = names.index().pictures[key_rank];
    trusted_from_ = key.pts;
    if (seeks_by_byte(source_) && seek_to_byte(key.position) && read_up_to(names, key_rank)) return true;
    const std::int64_t first = seeks_by_pts(source_) ? key.pts : key.dts;
    for (const std::int64_t target :
         {first, std::min(key.pts, key.dts), key.dts - ticks(source_, 2), key.dts - ticks(source_, 10)})
        if (seek(target) && read_up_to(names, key_rank)) return true;
    return restart() && read_up_to(names, key_rank);
}

bool SeekingDecoder::read_up_to_key_before(std::int64_t pts) {
    while (read_video_packet(source_, *packet_)) {
        const bool hidden = (packet_->flags & AV_PKT_FLAG_DISCARD) != 0;
        if (hidden || (packet_->flags & AV_PKT_FLAG_KEY) == 0 || packet_->pts == AV_NOPTS_VALUE) continue;
        trusted_from_ = packet_->pts;
        return packet_waits_ = packet_->pts <= pts;
    }
    return false;
}

bool SeekingDecoder::start_before(std::int64_t pts) {
    for (const int margin_s : {0, 2, 10})
        if (seek(pts - ticks(source_, margin_s)) && read_up_to_key_before(pts)) return true;
    return start_at_beginning();
}

bool SeekingDecoder::start_at_beginning() {
    trusted_from_ = trust_all;
    const bool moved = seeks_by_byte(source_) ? seek_to_byte(0) : seek(first_dts_ == AV_NOPTS_VALUE ? 0 : first_dts_);
    packet_waits_ =
        moved && read_video_packet(source_, *packet_) && packet_->pos == first_position_ && packet_->dts == first_dts_;
    if (packet_waits_) return true;
    if (!restart()) return false;
    return packet_waits_ = read_video_packet(source_, *packet_);
}

/// Opening the file anew is the one way back to the start that every container has.
bool SeekingDecoder::restart() {
    Result<Source> source = open_source(path_);
    if (!source) return false;
    source_ = std::move(source).value();
    avcodec_flush_buffers(decoder_.get());
    drained_ = packet_waits_ = false;
    return true;
}

/// Gives the waiting packet its picture's name and tells the decoder whether it may leave the picture out.
void SeekingDecoder::name_packet(const PacketNames* names, const Wish& wish) {
    bool unwanted = false;
    if (names != nullptr) {
        const std::optional<std::size_t> rank = names->rank_of(*packet_);
        packet_->pts = rank ? names->index().pictures[*rank].pts : AV_NOPTS_VALUE;
        unwanted = wish.only != nullptr && rank && !(*wish.only)[*rank];
    }
    layered_ = layered_ || is_of_higher_layer(*packet_, decoder_->codec_id, unit_length_bytes_);
    const bool may_skip = !layered_ && packet_->pts != AV_NOPTS_VALUE && (unwanted || packet_->pts < wish.skip_before);
    decoder_->skip_frame = may_skip ? AVDISCARD_NONREF : AVDISCARD_DEFAULT;
}

void SeekingDecoder::feed(const PacketNames* names, const Wish& wish) {
    while (packet_waits_ || read_video_packet(source_, *packet_)) {
        packet_waits_ = false;
        name_packet(names, wish);
        const bool is_last = wish.end_with && packet_->pts == *wish.end_with;
        const bool taken = avcodec_send_packet(decoder_.get(), packet_.get()) == 0;
        if (is_last) return drain();
        if (taken) return;
    }
    drain();
}

void SeekingDecoder::drain() {
    drained_ = true;
    (void)avcodec_send_packet(decoder_.get(), nullptr);
}

std::optional<Picture> SeekingDecoder::next(const PacketNames* names, const Wish& wish) {
    for (;;) {
        const int status = avcodec_receive_frame(decoder_.get(), frame_.get());
        if (status == 0) {
            if (frame_->pts == AV_NOPTS_VALUE || frame_->pts < trusted_from_) continue;
            if (std::optional<Picture> picture = picture_from(*frame_, frame_->pts)) return picture;
            continue;
        }
        if (status == AVERROR_EOF || (status == AVERROR(EAGAIN) && drained_)) return std::nullopt;
        // Other errors belong to one picture and arrive late; the pictures after it are still to come.
        if (status == AVERROR(EAGAIN)) feed(names, wish);
    }
}

}  // namespace quarterturn::media
