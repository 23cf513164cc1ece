#include "media/sound.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "media/libav.hpp"
#include "media/source.hpp"
extern "C" {
#include <libavfilter/avfilter.h>
#include <libavfilter/buffersink.h>
#include <libavfilter/buffersrc.h>
#include <libavutil/opt.h>
}

namespace quarterturn::media {
namespace {

using GraphPtr = std::unique_ptr<AVFilterGraph, FreeWith<avfilter_graph_free>>;

// One atempo stage goes down to a half; slower speeds are stages in a row.
// At normal speed there is none: it would move the sound by up to half its window of 40 ms.
std::string tempo_stages(double speed) {
    if (std::abs(speed - 1) < 1e-6) return "";
    std::string text;
    while (speed < 0.5) {
        text += "atempo=0.5,";
        speed /= 0.5;
    }
    return text + fmt::format("atempo={:.6f},", speed);
}

}  // namespace

struct SoundReader::State {
    std::filesystem::path path;
    Source source;
    int stream = -1;
    CodecPtr decoder;
    PacketPtr packet = new_packet();
    FramePtr frame = new_frame();
    GraphPtr graph;
    AVFilterContext* in = nullptr;
    AVFilterContext* out = nullptr;
    double start_s = 0;
    double speed = 1;
    std::int64_t fed = 0;  ///< samples given to the filter, at the decoder's rate
    bool ended = false;

    [[nodiscard]] AVStream* av_stream() const { return source.format->streams[stream]; }

    Status build_graph(const AVFrame& like) {
        graph.reset(avfilter_graph_alloc());
        char layout[64] = "stereo";
        av_channel_layout_describe(&like.ch_layout, layout, sizeof layout);
        const std::string from =
            fmt::format("time_base=1/{}:sample_rate={}:sample_fmt={}:channel_layout={}", like.sample_rate,
                        like.sample_rate, av_get_sample_fmt_name(static_cast<AVSampleFormat>(like.format)), layout);
        const std::string chain =
            tempo_stages(speed) +
            fmt::format("aresample={0},aformat=sample_fmts=flt:channel_layouts=stereo:sample_rates={0}", sound_rate_hz);
        int failed = avfilter_graph_create_filter(&in, avfilter_get_by_name("abuffer"), "in", from.c_str(), nullptr,
                                                  graph.get());
        if (failed >= 0)
            failed = avfilter_graph_create_filter(&out, avfilter_get_by_name("abuffersink"), "out", nullptr, nullptr,
                                                  graph.get());
        if (failed >= 0) failed = parse_chain(chain);
        if (failed >= 0) failed = avfilter_graph_config(graph.get(), nullptr);
        if (failed < 0) return libav_error(failed, "play the sound of", path, ErrorCode::unsupported);
        return ok();
    }

    int parse_chain(const std::string& chain) {
        AVFilterInOut* outputs = avfilter_inout_alloc();
        AVFilterInOut* inputs = avfilter_inout_alloc();
        outputs->name = av_strdup("in");
        outputs->filter_ctx = in;
        inputs->name = av_strdup("out");
        inputs->filter_ctx = out;
        const int failed = avfilter_graph_parse_ptr(graph.get(), chain.c_str(), &inputs, &outputs, nullptr);
        avfilter_inout_free(&inputs);
        avfilter_inout_free(&outputs);
        return failed;
    }

    // Silence until the frame's own time, or the part of it that lies before the wanted start cut off.
    Status feed(AVFrame& decoded) {
        if (!graph)
            if (Status built = build_graph(decoded); !built) return built;
        const auto rate = static_cast<double>(decoded.sample_rate);
        if (decoded.best_effort_timestamp != AV_NOPTS_VALUE) {
            const double at = static_cast<double>(decoded.best_effort_timestamp) * av_q2d(av_stream()->time_base);
            const auto place = static_cast<std::int64_t>(std::llround((at - start_s) * rate));
            if (place + decoded.nb_samples <= fed) return ok();
            if (place > fed + decoded.sample_rate / 100)
                if (Status filled =
                        feed_silence(decoded, std::min<std::int64_t>(place - fed, 600LL * decoded.sample_rate));
                    !filled)
                    return filled;
            if (place < fed) cut(decoded, static_cast<int>(fed - place));
        }
        return give(decoded);
    }

    static void cut(AVFrame& decoded, int samples) {
        const auto format = static_cast<AVSampleFormat>(decoded.format);
        const int channels = decoded.ch_layout.nb_channels;
        const bool planar = av_sample_fmt_is_planar(format) != 0;
        const int bytes = samples * av_get_bytes_per_sample(format) * (planar ? 1 : channels);
        for (int plane = 0; plane < (planar ? channels : 1); ++plane) decoded.extended_data[plane] += bytes;
        if (decoded.extended_data != decoded.data)
            for (int plane = 0; plane < std::min(channels, AV_NUM_DATA_POINTERS); ++plane)
                decoded.data[plane] = decoded.extended_data[plane];
        decoded.nb_samples -= samples;
    }

    Status feed_silence(const AVFrame& like, std::int64_t samples) {
        while (samples > 0) {
            FramePtr silent = new_frame();
            silent->format = like.format;
            silent->sample_rate = like.sample_rate;
            av_channel_layout_copy(&silent->ch_layout, &like.ch_layout);
            silent->nb_samples = static_cast<int>(std::min<std::int64_t>(samples, 4096));
            if (av_frame_get_buffer(silent.get(), 0) < 0)
                return Error{ErrorCode::io, "There is not enough memory for the sound."};
            av_samples_set_silence(silent->extended_data, 0, silent->nb_samples, silent->ch_layout.nb_channels,
                                   static_cast<AVSampleFormat>(silent->format));
            samples -= silent->nb_samples;
            if (Status given = give(*silent); !given) return given;
        }
        return ok();
    }

    Status give(AVFrame& samples) {
        samples.pts = fed;
        fed += samples.nb_samples;
        const int failed = av_buffersrc_add_frame_flags(in, &samples, AV_BUFFERSRC_FLAG_KEEP_REF);
        return failed < 0 ? Status{libav_error(failed, "play the sound of", path, ErrorCode::io)} : ok();
    }

    // One packet further; at the end of the file the filter is told.
    Status advance() {
        int failed = av_read_frame(source.format.get(), packet.get());
        for (int damaged = 0; failed == AVERROR_INVALIDDATA && damaged < 100; ++damaged)
            failed = av_read_frame(source.format.get(), packet.get());
        const bool mine = failed >= 0 && packet->stream_index == stream;
        if (failed >= 0 && !mine) {
            av_packet_unref(packet.get());
            return ok();
        }
        // A damaged packet is passed over: its place is filled with silence by the next one's time.
        (void)avcodec_send_packet(decoder.get(), failed >= 0 ? packet.get() : nullptr);
        if (failed >= 0) av_packet_unref(packet.get());
        while (avcodec_receive_frame(decoder.get(), frame.get()) >= 0) {
            Status fed_it = feed(*frame);
            av_frame_unref(frame.get());
            if (!fed_it) return fed_it;
        }
        if (failed < 0) {
            ended = true;
            if (in == nullptr) return ok();
            const int told = av_buffersrc_add_frame_flags(in, nullptr, 0);
            if (told < 0) return libav_error(told, "play the sound of", path, ErrorCode::io);
        }
        return ok();
    }
};

SoundReader::SoundReader(std::unique_ptr<State> state) : state_(std::move(state)) {}
SoundReader::SoundReader(SoundReader&&) noexcept = default;
SoundReader& SoundReader::operator=(SoundReader&&) noexcept = default;
SoundReader::~SoundReader() = default;

Result<SoundReader> SoundReader::open(const std::filesystem::path& path) {
    auto source = open_source(path);
    if (!source) return source.error();
    auto state = std::make_unique<State>();
    state->path = path;
    state->source = std::move(*source);
    AVFormatContext& format = *state->source.format;
    const AVCodec* codec = nullptr;
    state->stream = av_find_best_stream(&format, AVMEDIA_TYPE_AUDIO, -1, -1, &codec, 0);
    if (state->stream < 0) return Error{ErrorCode::missing_part, "This clip has no sound."};
    for (unsigned i = 0; i < format.nb_streams; ++i)
        format.streams[i]->discard = static_cast<int>(i) == state->stream ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
    state->decoder.reset(avcodec_alloc_context3(codec));
    if (codec == nullptr || avcodec_parameters_to_context(state->decoder.get(), state->av_stream()->codecpar) < 0 ||
        avcodec_open2(state->decoder.get(), codec, nullptr) < 0)
        return Error{ErrorCode::unsupported, "The sound of this clip is of a kind that cannot be played here."};
    state->decoder->pkt_timebase = state->av_stream()->time_base;
    return SoundReader(std::move(state));
}

Status SoundReader::start(double seconds, double speed) {
    if (!(speed >= 0.1 && speed <= 2)) return Error{ErrorCode::bad_input, "Sound plays at 0.1 to 2 times the speed."};
    State& s = *state_;
    // A little earlier: decoders of compressed sound need a packet or two to settle.
    const double from = std::max(0.0, seconds - 0.1);
    const auto ticks = static_cast<std::int64_t>(from / av_q2d(s.av_stream()->time_base));
    const int failed = avformat_seek_file(s.source.format.get(), s.stream, INT64_MIN, ticks, ticks, 0);
    if (failed < 0) (void)av_seek_frame(s.source.format.get(), s.stream, ticks, AVSEEK_FLAG_BACKWARD);
    avcodec_flush_buffers(s.decoder.get());
    s.graph.reset();
    s.in = s.out = nullptr;
    s.start_s = seconds;
    s.speed = speed;
    s.fed = 0;
    s.ended = false;
    return ok();
}

Status SoundReader::read(std::size_t frames, std::vector<float>& out) {
    State& s = *state_;
    const std::size_t wanted = out.size() + frames * 2;
    FramePtr filtered = new_frame();
    while (out.size() < wanted) {
        const int got = s.out != nullptr ? av_buffersink_get_frame(s.out, filtered.get()) : AVERROR(EAGAIN);
        if (got >= 0) {
            const auto* samples = reinterpret_cast<const float*>(filtered->data[0]);
            out.insert(out.end(), samples, samples + static_cast<std::size_t>(filtered->nb_samples) * 2);
            av_frame_unref(filtered.get());
            continue;
        }
        if (s.ended || got != AVERROR(EAGAIN)) break;
        if (Status moved = s.advance(); !moved) return moved;
    }
    return ok();
}

}  // namespace quarterturn::media
