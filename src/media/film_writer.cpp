#include "media/film_writer.hpp"

extern "C" {
#include <libavutil/display.h>
#include <libavutil/imgutils.h>
#include <libavutil/opt.h>
}

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "media/film_picture.hpp"
#include "media/part_file.hpp"
#include "media/scale.hpp"
#include "media/sound_encoder.hpp"

namespace quarterturn::media {
namespace {

namespace fs = std::filesystem;

constexpr Colour film_colour{Matrix::bt709, Range::limited, Transfer::standard};
constexpr double usual_rate = 30.0;
/// Key pictures this often: a player jumps without delay, and the film grows by a few percent only.
constexpr double key_every_s = 2.0;

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

/// The muxer with its open part file, closed in the right order.
class Muxer {
  public:
    [[nodiscard]] static Result<Muxer> create(PartFile file) {
        AVFormatContext* raw = nullptr;
        const std::string url = "file:" + file.part().string();
        if (avformat_alloc_output_context2(&raw, nullptr, "mp4", url.c_str()) < 0)
            return Error{ErrorCode::unsupported, "This build cannot write MP4 films."};
        Muxer muxer{std::move(file), OutputPtr{raw}};
        // No program name and no clock time in the file.
        raw->flags |= AVFMT_FLAG_BITEXACT;
        if (const int status = avio_open(&raw->pb, url.c_str(), AVIO_FLAG_WRITE); status < 0)
            return libav_error(status, "write", muxer.file_.final_path(), ErrorCode::io);
        muxer.io_.reset(raw->pb);
        return muxer;
    }
    [[nodiscard]] AVFormatContext& format() { return *format_; }
    [[nodiscard]] Error error(int status) const {
        return libav_error(status, "write", file_.final_path(), ErrorCode::io);
    }
    [[nodiscard]] Status finish() {
        if (const int status = av_write_trailer(format_.get()); status < 0) return error(status);
        AVIOContext* io = io_.release();
        format_->pb = nullptr;
        if (const int status = avio_closep(&io); status < 0) return error(status);
        return file_.publish();
    }

  private:
    Muxer(PartFile file, OutputPtr format) : file_(std::move(file)), format_(std::move(format)) {}
    // Destroyed in reverse: the io is closed before the part file is removed.
    PartFile file_;
    OutputPtr format_;
    IoPtr io_;
};

int rotation_for_matrix(int rotation_deg) {
    return -rotation_deg;
}

void set_rotation(AVStream& stream, int rotation_deg) {
    if (rotation_deg % 360 == 0) return;
    constexpr std::size_t size = 9 * sizeof(std::int32_t);
    std::uint8_t* data = av_stream_new_side_data(&stream, AV_PKT_DATA_DISPLAYMATRIX, size);
    // av_display_rotation_set turns clockwise, ClipInfo counts counter-clockwise.
    if (data != nullptr)
        av_display_rotation_set(reinterpret_cast<std::int32_t*>(data), rotation_for_matrix(rotation_deg));
}

}  // namespace

struct FilmWriter::State {
    State(const FilmSettings& wanted, Muxer opened, std::optional<SoundEncoder> encoder)
        : settings(wanted), muxer(std::move(opened)), sound(std::move(encoder)) {}

    FilmSettings settings;
    Muxer muxer;
    std::optional<SoundEncoder> sound;
    CodecPtr codec;  ///< opened at the second picture, when the rate is known
    FramePtr first;  ///< the first picture, waiting for the second
    std::int64_t first_pts = 0;
    std::int64_t last_pts = 0;
    std::int64_t last_distance = 0;
    std::int64_t pictures = 0;
    AVStream* video = nullptr;
    AVStream* audio = nullptr;
    std::vector<float> early_sound;  ///< given before the file could be begun

    [[nodiscard]] Status begin(double rate);
    [[nodiscard]] Status open_codec(double rate);
    [[nodiscard]] Status send(AVFrame* frame);
    [[nodiscard]] Status check_time(std::int64_t pts) const;
    [[nodiscard]] Status add_frame(FramePtr frame);
    [[nodiscard]] Status encode_sound(std::span<const float> samples);
    [[nodiscard]] SoundEncoder::Sink sound_sink();
};

Status FilmWriter::State::open_codec(double rate) {
    const AVCodec* encoder = avcodec_find_encoder_by_name("libx264");
    if (encoder == nullptr) return Error{ErrorCode::unsupported, "This build cannot write H.264 films (no libx264)."};
    codec.reset(avcodec_alloc_context3(encoder));
    codec->width = settings.width;
    codec->height = settings.height;
    codec->pix_fmt = AV_PIX_FMT_YUV420P;
    codec->time_base = {static_cast<int>(settings.time_base.num), static_cast<int>(settings.time_base.den)};
    // Only a hint: it chooses the level, which decides whether a phone will play the film.
    codec->framerate = av_d2q(rate, 100000);
    codec->gop_size = std::max(1, static_cast<int>(std::lround(rate * key_every_s)));
    codec->color_range = AVCOL_RANGE_MPEG;
    codec->colorspace = AVCOL_SPC_BT709;
    codec->color_primaries = AVCOL_PRI_BT709;
    codec->color_trc = AVCOL_TRC_BT709;
    codec->chroma_sample_location = AVCHROMA_LOC_LEFT;
    codec->thread_count = settings.deterministic ? 1 : settings.threads;
    if (settings.deterministic) codec->flags |= AV_CODEC_FLAG_BITEXACT;
    if ((muxer.format().oformat->flags & AVFMT_GLOBALHEADER) != 0) codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
    av_opt_set_double(codec->priv_data, "crf", settings.quality, 0);
    av_opt_set(codec->priv_data, "preset", "medium", 0);
    if (const int status = avcodec_open2(codec.get(), encoder, nullptr); status < 0) return muxer.error(status);
    return ok();
}

/// Opens the encoders and writes the file's head.
Status FilmWriter::State::begin(double rate) {
    if (Status status = open_codec(rate); !status) return status;
    AVFormatContext& format = muxer.format();
    video = avformat_new_stream(&format, nullptr);
    video->time_base = codec->time_base;
    video->avg_frame_rate = codec->framerate;
    avcodec_parameters_from_context(video->codecpar, codec.get());
    set_rotation(*video, settings.rotation_deg);
    if (sound) {
        audio = avformat_new_stream(&format, nullptr);
        audio->time_base = sound->codec().time_base;
        avcodec_parameters_from_context(audio->codecpar, &sound->codec());
    }
    if (settings.recorded_at)
        av_dict_set(&format.metadata, "creation_time", format_instant(*settings.recorded_at).c_str(), 0);
    AVDictionary* options = nullptr;
    av_dict_set(&options, "movflags", "+faststart", 0);
    const int status = avformat_write_header(&format, &options);
    av_dict_free(&options);
    if (status < 0) return muxer.error(status);
    if (Status sent = send(first.get()); !sent) return sent;
    first.reset();
    const std::vector<float> waiting = std::exchange(early_sound, {});
    return encode_sound(waiting);
}

Status FilmWriter::State::send(AVFrame* frame) {
    if (const int status = avcodec_send_frame(codec.get(), frame); status < 0) return muxer.error(status);
    const PacketPtr packet = new_packet();
    for (;;) {
        const int status = avcodec_receive_packet(codec.get(), packet.get());
        if (status == AVERROR(EAGAIN) || status == AVERROR_EOF) return ok();
        if (status < 0) return muxer.error(status);
        // Its successor's timestamp ends a picture; only the last one needs a length of its own.
        packet->duration = last_distance;
        packet->stream_index = video->index;
        av_packet_rescale_ts(packet.get(), codec->time_base, video->time_base);
        if (const int written = av_interleaved_write_frame(&muxer.format(), packet.get()); written < 0)
            return muxer.error(written);
    }
}

SoundEncoder::Sink FilmWriter::State::sound_sink() {
    return [this](AVPacket& packet) {
        packet.stream_index = audio->index;
        av_packet_rescale_ts(&packet, sound->codec().time_base, audio->time_base);
        // Sound begins with the first picture, whatever that one's timestamp is.
        const std::int64_t start = av_rescale_q(first_pts, codec->time_base, audio->time_base);
        packet.pts += start;
        packet.dts += start;
        return av_interleaved_write_frame(&muxer.format(), &packet);
    };
}

Status FilmWriter::State::encode_sound(std::span<const float> samples) {
    if (!sound || samples.empty()) return ok();
    const int status = sound->add(samples, sound_sink());
    return status < 0 ? Status{muxer.error(status)} : ok();
}

FilmWriter::FilmWriter(std::unique_ptr<State> state) : state_(std::move(state)) {}
FilmWriter::FilmWriter(FilmWriter&&) noexcept = default;
FilmWriter& FilmWriter::operator=(FilmWriter&&) noexcept = default;
FilmWriter::~FilmWriter() = default;

Result<FilmWriter> FilmWriter::create(const fs::path& path, const FilmSettings& settings) {
    prepare_libav();
    if (Status status = check(settings); !status) return status.error();
    std::optional<SoundEncoder> sound;
    if (settings.audio_rate_hz != 0) {
        Result<SoundEncoder> opened = SoundEncoder::open(settings.audio_rate_hz, true, settings.deterministic);
        if (!opened) return opened.error();
        sound = std::move(opened).value();
    }
    Result<PartFile> file = PartFile::create(path);
    if (!file) return file.error();
    Result<Muxer> muxer = Muxer::create(std::move(file).value());
    if (!muxer) return muxer.error();
    return FilmWriter{std::make_unique<State>(settings, std::move(muxer).value(), std::move(sound))};
}

namespace {

Error wrong_size(const FilmSettings& settings, int width, int height) {
    return {ErrorCode::bad_input, fmt::format("The film takes pictures of {} x {}; this one is {} x {}.",
                                              settings.width, settings.height, width, height)};
}

Result<FramePtr> new_picture_frame(const FilmSettings& settings, std::int64_t pts) {
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

Status FilmWriter::State::add_frame(FramePtr frame) {
    const std::int64_t pts = frame->pts;
    if (pictures > 0) last_distance = pts - last_pts;
    last_pts = pts;
    if (pictures++ == 0) {
        first_pts = pts;
        first = std::move(frame);
        return ok();
    }
    if (!codec) {
        const double distance = seconds_between(first_pts, pts, settings.time_base);
        if (Status status = begin(std::clamp(1.0 / distance, 1.0, 240.0)); !status) return status;
    }
    return send(frame.get());
}

Status FilmWriter::State::check_time(std::int64_t pts) const {
    if (pictures > 0 && pts <= last_pts)
        return Error{ErrorCode::bad_input, "The pictures of a film must come in the order of their times."};
    return ok();
}

Status FilmWriter::add(const Image& rgb, std::int64_t pts) {
    State& state = *state_;
    if (rgb.channels != 3 || rgb.width != state.settings.width || rgb.height != state.settings.height ||
        rgb.samples.size() != static_cast<std::size_t>(rgb.width) * static_cast<std::size_t>(rgb.height) * 3)
        return wrong_size(state.settings, rgb.width, rgb.height);
    if (Status fine = state.check_time(pts); !fine) return fine;
    Result<FramePtr> frame = new_picture_frame(state.settings, pts);
    if (!frame) return frame.error();
    const Samples from{AV_PIX_FMT_RGB24,
                       rgb.width,
                       rgb.height,
                       {rgb.samples.data(), nullptr, nullptr, nullptr},
                       {rgb.width * 3, 0, 0, 0}};
    AVFrame& out = **frame;
    const Target to{AV_PIX_FMT_YUV420P,
                    rgb.width,
                    rgb.height,
                    {out.data[0], out.data[1], out.data[2], nullptr},
                    {out.linesize[0], out.linesize[1], out.linesize[2], 0}};
    if (!scale(from, to, film_colour, Quality::exact))
        return Error{ErrorCode::unsupported, "The picture cannot be converted for the film."};
    return state.add_frame(std::move(*frame));
}

Status FilmWriter::add(const Picture& picture, std::int64_t pts) {
    State& state = *state_;
    if (picture.width != state.settings.width || picture.height != state.settings.height)
        return wrong_size(state.settings, picture.width, picture.height);
    if (!is_film_picture(picture))
        return Error{ErrorCode::bad_input, "The picture is not stored as films are written."};
    if (Status fine = state.check_time(pts); !fine) return fine;
    Result<FramePtr> frame = new_picture_frame(state.settings, pts);
    if (!frame) return frame.error();
    const Samples from = samples_of(picture);
    AVFrame& out = **frame;
    av_image_copy(out.data, out.linesize, const_cast<const std::uint8_t**>(from.data.data()), from.strides.data(),
                  AV_PIX_FMT_YUV420P, picture.width, picture.height);
    return state.add_frame(std::move(*frame));
}

Status FilmWriter::add_sound(std::span<const float> samples) {
    State& state = *state_;
    if (!state.sound) return Error{ErrorCode::bad_input, "This film was begun without sound."};
    if (state.codec) return state.encode_sound(samples);
    state.early_sound.insert(state.early_sound.end(), samples.begin(), samples.end());
    return ok();
}

Status FilmWriter::finish() {
    State& state = *state_;
    if (state.pictures == 0) return Error{ErrorCode::bad_input, "A film needs at least one picture."};
    if (!state.codec) {
        state.last_distance = std::max<std::int64_t>(1, nearest_tick(1.0 / usual_rate, state.settings.time_base));
        if (Status status = state.begin(usual_rate); !status) return status;
    }
    if (Status status = state.send(nullptr); !status) return status;
    if (state.sound) {
        if (const int status = state.sound->finish(state.sound_sink()); status < 0) return state.muxer.error(status);
    }
    return state.muxer.finish();
}

}  // namespace quarterturn::media
