#include "media/film_encoder.hpp"

extern "C" {
#include <libavutil/imgutils.h>
#include <libavutil/opt.h>
}

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "media/film_picture.hpp"
#include "media/scale.hpp"

namespace quarterturn::media {
namespace {

/// Key pictures this often: a player jumps without delay, and the film grows by a few percent only.
constexpr double key_every_s = 2.0;

Error wrong_size(const FilmSettings& settings, int width, int height) {
    return {ErrorCode::bad_input, fmt::format("The film takes pictures of {} x {}; this one is {} x {}.",
                                              settings.width, settings.height, width, height)};
}

Result<FramePtr> new_film_frame(const FilmSettings& settings, std::int64_t pts) {
    FramePtr frame = new_frame();
    frame->format = AV_PIX_FMT_YUV420P;
    frame->width = settings.width;
    frame->height = settings.height;
    frame->pts = pts;
    if (av_frame_get_buffer(frame.get(), 0) < 0)
        return Error{ErrorCode::io, "There is not enough memory for the film."};
    return frame;
}

}  // namespace

Status check(const FilmSettings& settings) {
    const auto bad = [](std::string detail) { return Error{ErrorCode::bad_input, std::move(detail)}; };
    if (settings.width < 2 || settings.height < 2 || settings.width % 2 != 0 || settings.height % 2 != 0 ||
        settings.width > 8192 || settings.height > 8192)
        return bad(fmt::format("A film of {} x {} cannot be written: both must be even, 2 to 8192.", settings.width,
                               settings.height));
    if (settings.time_base.num < 1 || settings.time_base.den < 1 || settings.time_base.num > INT32_MAX ||
        settings.time_base.den > INT32_MAX)
        return bad("A film needs a time base of two positive numbers.");
    if (settings.quality < 0 || settings.quality > 51)
        return bad(fmt::format("Film quality {} is outside 0 (lossless) to 51.", settings.quality));
    if (settings.rotation_deg % 90 != 0) return bad("A film can be turned by multiples of 90 degrees only.");
    return ok();
}

Result<CodecPtr> open_film_encoder(const FilmSettings& settings, double rate) {
    const AVCodec* encoder = avcodec_find_encoder_by_name("libx264");
    if (encoder == nullptr) return Error{ErrorCode::unsupported, "This build cannot write H.264 films (no libx264)."};
    CodecPtr codec{avcodec_alloc_context3(encoder)};
    codec->width = settings.width;
    codec->height = settings.height;
    codec->pix_fmt = AV_PIX_FMT_YUV420P;
    codec->time_base = {static_cast<int>(settings.time_base.num), static_cast<int>(settings.time_base.den)};
    codec->framerate = av_d2q(rate, 100000);
    codec->gop_size = std::max(1, static_cast<int>(std::lround(rate * key_every_s)));
    codec->color_range = AVCOL_RANGE_MPEG;
    codec->colorspace = AVCOL_SPC_BT709;
    codec->color_primaries = AVCOL_PRI_BT709;
    codec->color_trc = AVCOL_TRC_BT709;
    codec->chroma_sample_location = AVCHROMA_LOC_LEFT;
    codec->thread_count = settings.deterministic ? 1 : settings.threads;
    if (settings.deterministic) codec->flags |= AV_CODEC_FLAG_BITEXACT;
    // MP4 keeps the encoder's parameters in the file's head.
    codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
    av_opt_set_double(codec->priv_data, "crf", settings.quality, 0);
    av_opt_set(codec->priv_data, "preset", "medium", 0);
    if (const int status = avcodec_open2(codec.get(), encoder, nullptr); status < 0)
        return Error{ErrorCode::unsupported,
                     fmt::format("A film of {} x {} cannot be written: the encoder says \"{}\".", settings.width,
                                 settings.height, libav_text(status))};
    return codec;
}

Result<FramePtr> film_frame(const FilmSettings& settings, const Image& rgb, std::int64_t pts) {
    if (rgb.channels != 3 || rgb.width != settings.width || rgb.height != settings.height ||
        rgb.samples.size() != static_cast<std::size_t>(rgb.width) * static_cast<std::size_t>(rgb.height) * 3)
        return wrong_size(settings, rgb.width, rgb.height);
    Result<FramePtr> frame = new_film_frame(settings, pts);
    if (!frame) return frame.error();
    if (!scale(samples_of(rgb), target_in(**frame), film_colour, Quality::exact))
        return Error{ErrorCode::unsupported, "The picture cannot be converted for the film."};
    return frame;
}

Result<FramePtr> film_frame(const FilmSettings& settings, const Picture& picture, std::int64_t pts) {
    if (picture.width != settings.width || picture.height != settings.height)
        return wrong_size(settings, picture.width, picture.height);
    if (!is_film_picture(picture))
        return Error{ErrorCode::bad_input, "The picture is not stored as films are written."};
    Result<FramePtr> frame = new_film_frame(settings, pts);
    if (!frame) return frame.error();
    const Samples from = samples_of(picture);
    AVFrame& out = **frame;
    av_image_copy(out.data, out.linesize, const_cast<const std::uint8_t**>(from.data.data()), from.strides.data(),
                  AV_PIX_FMT_YUV420P, picture.width, picture.height);
    return frame;
}

}  // namespace quarterturn::media
