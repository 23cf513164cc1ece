#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "media/image.hpp"
#include "media/scale.hpp"

namespace quarterturn::media {
namespace {

Error cannot_write(std::string_view kind) {
    return {ErrorCode::unsupported, fmt::format("This build cannot write {} pictures.", kind)};
}

bool is_whole(const Image& image) {
    return image.width > 0 && image.height > 0 && (image.channels == 1 || image.channels == 3) &&
           image.samples.size() == static_cast<std::size_t>(image.width) * static_cast<std::size_t>(image.height) *
                                       static_cast<std::size_t>(image.channels);
}

/// The image as a frame of the encoder's format.
FramePtr frame_of(const Image& image, AVPixelFormat format, const Colour& colour) {
    FramePtr frame = new_frame();
    frame->format = format;
    frame->width = image.width;
    frame->height = image.height;
    if (av_frame_get_buffer(frame.get(), 0) < 0) return nullptr;
    return scale(samples_of(image), target_in(*frame), colour, Quality::exact) ? std::move(frame) : nullptr;
}

CodecPtr open_encoder(AVCodecID id, const AVFrame& frame, int scale_factor) {
    const AVCodec* codec = avcodec_find_encoder(id);
    if (codec == nullptr) return nullptr;
    CodecPtr encoder{avcodec_alloc_context3(codec)};
    if (!encoder) return nullptr;
    encoder->width = frame.width;
    encoder->height = frame.height;
    encoder->pix_fmt = static_cast<AVPixelFormat>(frame.format);
    encoder->time_base = {1, 25};
    encoder->thread_count = 1;
    // No program name in the file.
    encoder->flags |= AV_CODEC_FLAG_BITEXACT;
    if (scale_factor > 0) {
        encoder->flags |= AV_CODEC_FLAG_QSCALE;
        encoder->global_quality = FF_QP2LAMBDA * scale_factor;
        encoder->qmin = 1;
        encoder->qmax = 31;
    }
    return avcodec_open2(encoder.get(), codec, nullptr) == 0 ? std::move(encoder) : nullptr;
}

Result<std::string> encode(AVCodecID id, AVFrame& frame, int scale_factor, std::string_view kind) {
    const CodecPtr encoder = open_encoder(id, frame, scale_factor);
    const PacketPtr packet = new_packet();
    frame.quality = FF_QP2LAMBDA * scale_factor;
    frame.pts = 0;
    if (!encoder || avcodec_send_frame(encoder.get(), &frame) < 0 || avcodec_send_frame(encoder.get(), nullptr) < 0 ||
        avcodec_receive_packet(encoder.get(), packet.get()) < 0)
        return cannot_write(kind);
    return std::string{reinterpret_cast<const char*>(packet->data), static_cast<std::size_t>(packet->size)};
}

}  // namespace

Result<std::string> encode_png(const Image& image) {
    if (!is_whole(image)) return Error{ErrorCode::bad_input, "The picture to write has no samples."};
    const FramePtr frame = frame_of(image, image.channels == 1 ? AV_PIX_FMT_GRAY8 : AV_PIX_FMT_RGB24, {});
    if (!frame) return cannot_write("PNG");
    return encode(AV_CODEC_ID_PNG, *frame, 0, "PNG");
}

Result<std::string> encode_jpeg(const Image& image, int quality) {
    if (!is_whole(image)) return Error{ErrorCode::bad_input, "The picture to write has no samples."};
    // JFIF (ITU-T T.871): BT.601, full range.
    const FramePtr frame = frame_of(image, AV_PIX_FMT_YUVJ420P, {Matrix::bt601, Range::full, Transfer::standard});
    if (!frame) return cannot_write("JPEG");
    // libav counts coarseness from 1 (best) to 31.
    const double coarse = 1 + (100 - std::clamp(quality, 1, 100)) * 30.0 / 99;
    return encode(AV_CODEC_ID_MJPEG, *frame, static_cast<int>(std::lround(coarse)), "JPEG");
}

}  // namespace quarterturn::media
