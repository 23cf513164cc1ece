#include "media/frame_source.hpp"

namespace quarterturn::media {

FrameSource::FrameSource(Source source, CodecPtr decoder) : source_(std::move(source)), decoder_(std::move(decoder)) {}

AVFrame* FrameSource::next() {
    for (;;) {
        const int status = avcodec_receive_frame(decoder_.get(), frame_.get());
        if (status == 0) {
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
    while (read_video_packet(source_, *packet_)) {
        if ((packet_->flags & AV_PKT_FLAG_DISCARD) == 0) ++counts_.packets;
        const int status = avcodec_send_packet(decoder_.get(), packet_.get());
        av_packet_unref(packet_.get());
        if (status == 0) return;
    }
    drained_ = true;
    (void)avcodec_send_packet(decoder_.get(), nullptr);
}

}  // namespace quarterturn::media
