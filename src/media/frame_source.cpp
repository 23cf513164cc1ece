#include "media/frame_source.hpp"

namespace quarterturn::media {

FrameSource::FrameSource(Source source, CodecPtr decoder, const std::filesystem::path& path)
    : source_(std::move(source)), decoder_(std::move(decoder)) {
    find_start(path);
}

/// Leaves the first packet worth decoding waiting. Packets that an edit list hides are: the shown ones refer to them.
void FrameSource::find_start(const std::filesystem::path& path) {
    for (int i = 0; i < start_search_packets && read_video_packet(source_, *packet_); ++i) {
        const bool hidden = (packet_->flags & AV_PKT_FLAG_DISCARD) != 0;
        if (!hidden && (packet_->flags & AV_PKT_FLAG_KEY) == 0) continue;
        packet_waits_ = true;
        if (!hidden && packet_->pts != AV_NOPTS_VALUE) trusted_from_ = packet_->pts;
        return;
    }
    if (Result<Source> again = open_source(path)) source_ = std::move(again).value();
}

AVFrame* FrameSource::next() {
    for (;;) {
        const int status = avcodec_receive_frame(decoder_.get(), frame_.get());
        if (status == 0) {
            if (frame_->pts != AV_NOPTS_VALUE && frame_->pts < trusted_from_) continue;
            ++counts_.pictures;
            if ((frame_->flags & AV_FRAME_FLAG_CORRUPT) != 0 || frame_->decode_error_flags != 0) ++counts_.damaged;
            return frame_.get();
        }
        if (status == AVERROR_EOF) return nullptr;
        if (status == AVERROR(EAGAIN) && drained_) return nullptr;
        // With frame threads a picture's error arrives here, late; the pictures after it are still to come.
        if (status == AVERROR(EAGAIN)) feed();
    }
}

/// Sends packets until the decoder took one. A packet it cannot decode is skipped: the next may be fine.
void FrameSource::feed() {
    while (packet_waits_ || read_video_packet(source_, *packet_)) {
        packet_waits_ = false;
        const bool too_early = packet_->pts != AV_NOPTS_VALUE && packet_->pts < trusted_from_;
        if ((packet_->flags & AV_PKT_FLAG_DISCARD) == 0 && !too_early) ++counts_.packets;
        const int status = avcodec_send_packet(decoder_.get(), packet_.get());
        av_packet_unref(packet_.get());
        if (status == 0) return;
    }
    drained_ = true;
    (void)avcodec_send_packet(decoder_.get(), nullptr);
}

}  // namespace quarterturn::media
