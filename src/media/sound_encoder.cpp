#include "media/sound_encoder.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quarterturn::media {

Result<SoundEncoder> SoundEncoder::open(int rate_hz, bool global_header, bool deterministic) {
    const Error refused{ErrorCode::unsupported,
                        fmt::format("Sound at {} samples per second cannot be written; use 44100 or 48000.", rate_hz)};
    const AVCodec* codec = avcodec_find_encoder(AV_CODEC_ID_AAC);
    if (codec == nullptr) return Error{ErrorCode::unsupported, "This build cannot write AAC sound."};
    CodecPtr context{avcodec_alloc_context3(codec)};
    if (!context) return refused;
    context->sample_rate = rate_hz;
    context->time_base = {1, rate_hz};
    context->sample_fmt = AV_SAMPLE_FMT_FLTP;
    context->bit_rate = 96000;
    av_channel_layout_default(&context->ch_layout, 1);
    if (global_header) context->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
    if (deterministic) context->flags |= AV_CODEC_FLAG_BITEXACT;
    if (avcodec_open2(context.get(), codec, nullptr) < 0) return refused;
    return SoundEncoder{std::move(context)};
}

int SoundEncoder::add(std::span<const float> samples, const Sink& sink) {
    waiting_.insert(waiting_.end(), samples.begin(), samples.end());
    const auto portion = static_cast<std::size_t>(codec_->frame_size);
    std::size_t used = 0;
    int status = 0;
    for (; status >= 0 && waiting_.size() - used >= portion; used += portion)
        status = send(std::span{waiting_}.subspan(used, portion), sink);
    waiting_.erase(waiting_.begin(), waiting_.begin() + static_cast<std::ptrdiff_t>(used));
    return status;
}

int SoundEncoder::finish(const Sink& sink) {
    int status = waiting_.empty() ? 0 : send(waiting_, sink);
    waiting_.clear();
    if (status >= 0) status = avcodec_send_frame(codec_.get(), nullptr);
    return status < 0 ? status : drain(sink);
}

int SoundEncoder::send(std::span<const float> samples, const Sink& sink) {
    const FramePtr frame = new_frame();
    frame->format = codec_->sample_fmt;
    frame->sample_rate = codec_->sample_rate;
    frame->nb_samples = static_cast<int>(samples.size());
    if (const int status = av_channel_layout_copy(&frame->ch_layout, &codec_->ch_layout); status < 0) return status;
    if (const int status = av_frame_get_buffer(frame.get(), 0); status < 0) return status;
    auto* out = reinterpret_cast<float*>(frame->data[0]);
    std::transform(samples.begin(), samples.end(), out,
                   [](float sample) { return std::isfinite(sample) ? std::clamp(sample, -1.0F, 1.0F) : 0.0F; });
    frame->pts = sent_;
    sent_ += frame->nb_samples;
    const int status = avcodec_send_frame(codec_.get(), frame.get());
    return status < 0 ? status : drain(sink);
}

int SoundEncoder::drain(const Sink& sink) {
    const PacketPtr packet = new_packet();
    for (;;) {
        const int status = avcodec_receive_packet(codec_.get(), packet.get());
        if (status == AVERROR(EAGAIN) || status == AVERROR_EOF) return 0;
        if (status < 0) return status;
        if (const int taken = sink(*packet); taken < 0) return taken;
    }
}

}  // namespace quarterturn::media
