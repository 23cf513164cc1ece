#include "media/film_writer.hpp"

#include <algorithm>

#include "media/film_encoder.hpp"
#include "media/film_file.hpp"
#include "media/sound_encoder.hpp"

namespace quarterturn::media {
namespace {

constexpr double usual_rate = 30.0;

}  // namespace

struct FilmWriter::State {
    State(const FilmSettings& wanted, FilmFile opened, std::optional<SoundEncoder> encoder)
        : settings(wanted), file(std::move(opened)), sound(std::move(encoder)) {}

    FilmSettings settings;
    FilmFile file;
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
    [[nodiscard]] Status send(AVFrame* frame);
    [[nodiscard]] Status add_frame(Result<FramePtr> made);
    [[nodiscard]] Status encode_sound(std::span<const float> samples);
    [[nodiscard]] SoundEncoder::Sink sound_sink();
};

/// Opens the encoder and writes the file's head.
Status FilmWriter::State::begin(double rate) {
    Result<CodecPtr> opened = open_film_encoder(settings, rate);
    if (!opened) return opened.error();
    codec = std::move(*opened);
    video = &add_stream(file, *codec, settings.rotation_deg);
    if (sound) audio = &add_stream(file, sound->codec());
    if (settings.recorded_at)
        av_dict_set(&file.format().metadata, "creation_time", format_instant(*settings.recorded_at).c_str(), 0);
    if (Status status = file.write_head(); !status) return status;
    if (Status sent = send(first.get()); !sent) return sent;
    first.reset();
    const std::vector<float> waiting = std::exchange(early_sound, {});
    return encode_sound(waiting);
}

Status FilmWriter::State::send(AVFrame* frame) {
    if (const int status = avcodec_send_frame(codec.get(), frame); status < 0) return file.error(status);
    const PacketPtr packet = new_packet();
    for (;;) {
        const int status = avcodec_receive_packet(codec.get(), packet.get());
        if (status == AVERROR(EAGAIN) || status == AVERROR_EOF) return ok();
        if (status < 0) return file.error(status);
        // Its successor's timestamp ends a picture; only the last one needs a length of its own.
        packet->duration = last_distance;
        packet->stream_index = video->index;
        av_packet_rescale_ts(packet.get(), codec->time_base, video->time_base);
        if (const int written = av_interleaved_write_frame(&file.format(), packet.get()); written < 0)
            return file.error(written);
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
        return av_interleaved_write_frame(&file.format(), &packet);
    };
}

Status FilmWriter::State::encode_sound(std::span<const float> samples) {
    if (!sound || samples.empty()) return ok();
    const int status = sound->add(samples, sound_sink());
    return status < 0 ? Status{file.error(status)} : ok();
}

FilmWriter::FilmWriter(std::unique_ptr<State> state) : state_(std::move(state)) {}
FilmWriter::FilmWriter(FilmWriter&&) noexcept = default;
FilmWriter& FilmWriter::operator=(FilmWriter&&) noexcept = default;
FilmWriter::~FilmWriter() = default;

Result<FilmWriter> FilmWriter::create(const std::filesystem::path& path, const FilmSettings& settings) {
    prepare_libav();
    if (Status status = check(settings); !status) return status.error();
    std::optional<SoundEncoder> sound;
    if (settings.audio_rate_hz != 0) {
        Result<SoundEncoder> opened = SoundEncoder::open(settings.audio_rate_hz, true, settings.deterministic);
        if (!opened) return opened.error();
        sound = std::move(opened).value();
    }
    Result<FilmFile> file = FilmFile::create(path);
    if (!file) return file.error();
    return FilmWriter{std::make_unique<State>(settings, std::move(file).value(), std::move(sound))};
}

Status FilmWriter::State::add_frame(Result<FramePtr> made) {
    if (!made) return made.error();
    FramePtr frame = std::move(*made);
    const std::int64_t pts = frame->pts;
    if (pictures > 0 && pts <= last_pts)
        return Error{ErrorCode::bad_input, "The pictures of a film must come in the order of their times."};
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

Status FilmWriter::add(const Image& rgb, std::int64_t pts) {
    return state_->add_frame(film_frame(state_->settings, rgb, pts));
}

Status FilmWriter::add(const Picture& picture, std::int64_t pts) {
    return state_->add_frame(film_frame(state_->settings, picture, pts));
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
        if (const int status = state.sound->finish(state.sound_sink()); status < 0) return state.file.error(status);
    }
    return state.file.finish();
}

}  // namespace quarterturn::media
