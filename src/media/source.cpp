#include "media/source.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <thread>
#include <vector>

#include "base/file.hpp"

namespace quarterturn::media {
namespace {

namespace fs = std::filesystem;

/// Films, sounds (to say "sound only") and single pictures. Playlists and scripts, which name other files, are not
/// here.
constexpr const char* format_names =
    "mov,mp4,m4a,3gp,3g2,mj2,matroska,webm,avi,mpegts,mpeg,mpegvideo,m4v,h264,hevc,mjpeg,flv,live_flv,asf,ogg,ivf,av1,"
    "obu,"
    "yuv4mpegpipe,nut,gif,apng,dv,mxf,rm,"
    "png_pipe,jpeg_pipe,bmp_pipe,tiff_pipe,webp_pipe,jpegls_pipe,pgm_pipe,ppm_pipe,"
    "wav,mp3,aac,flac,aiff,caf,amr,w64";

/// After this many failed reads in a row nothing better will come.
constexpr int patience = 64;

Error not_a_film(const fs::path& path) {
    return {ErrorCode::bad_input,
            fmt::format(
                "{} is not a film this program can read; choose the recording itself (MP4, MOV, MKV, WebM, AVI, TS).",
                path.string())};
}

Error no_index(const fs::path& path) {
    return {
        ErrorCode::bad_input,
        fmt::format("{} cannot be played: its index (moov) is missing, because the recording was not finished or the "
                    "copy was cut. Copy it again from the phone.",
                    path.string())};
}

/// Whether the file begins like an MP4 or MOV.
bool begins_like_mp4(const fs::path& path) {
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (descriptor < 0) return false;
    std::array<char, 8> head{};
    const ssize_t count = ::read(descriptor, head.data(), head.size());
    ::close(descriptor);
    if (count != static_cast<ssize_t>(head.size())) return false;
    const std::string_view kind{head.data() + 4, 4};
    return kind == "ftyp" || kind == "mdat" || kind == "wide" || kind == "free" || kind == "moov";
}

/// Says what is wrong before libav does, because its words would not help.
Status check_file(const fs::path& path) {
    // O_NONBLOCK: opening a pipe without a writer would otherwise wait for ever.
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0) return system_error(errno, "open", path);
    struct stat facts {};
    const bool known = ::fstat(descriptor, &facts) == 0;
    ::close(descriptor);
    if (!known) return system_error(errno, "open", path);
    if (S_ISDIR(facts.st_mode))
        return Error{ErrorCode::bad_input, fmt::format("{} is a folder; choose a film in it.", path.string())};
    if (!S_ISREG(facts.st_mode))
        return Error{ErrorCode::bad_input, fmt::format("{} is not a file on disk.", path.string())};
    if (facts.st_size == 0)
        return Error{ErrorCode::bad_input,
                     fmt::format("{} is empty (0 bytes). Copy it again from the phone.", path.string())};
    return ok();
}

Result<InputPtr> open_format(const fs::path& path) {
    AVDictionary* options = nullptr;
    av_dict_set(&options, "protocol_whitelist", "file", 0);
    av_dict_set(&options, "format_whitelist", format_names, 0);
    AVFormatContext* raw = nullptr;
    const std::string url = "file:" + path.string();
    const int status = avformat_open_input(&raw, url.c_str(), nullptr, &options);
    av_dict_free(&options);
    if (status == 0) return InputPtr{raw};
    // check_file() could open the file, so only these are the system's doing; demuxers return small numbers that merely
    // look like others.
    const int system_number = AVUNERROR(status);
    if (system_number == EACCES || system_number == EIO || system_number == ENOMEM || system_number == EMFILE)
        return libav_error(status, "open", path, ErrorCode::io);
    return begins_like_mp4(path) ? no_index(path) : not_a_film(path);
}

/// libav opens decoders of its own while it looks into the streams; they get the same size limit as ours.
void look_into_streams(AVFormatContext& format) {
    std::vector<AVDictionary*> options(format.nb_streams, nullptr);
    for (AVDictionary*& each : options) {
        av_dict_set_int(&each, "max_pixels", max_pixels, 0);
        av_dict_set_int(&each, "threads", 1, 0);
    }
    const std::size_t count = options.size();
    // A failure here is not final: the streams found so far may be enough.
    (void)avformat_find_stream_info(&format, options.data());
    for (std::size_t i = 0; i < count; ++i) av_dict_free(&options[i]);
}

bool is_cover(const AVStream& stream) {
    return (stream.disposition & AV_DISPOSITION_ATTACHED_PIC) != 0;
}

Result<int> choose_video(const AVFormatContext& format, const fs::path& path) {
    bool sound = false;
    int best = -1;
    for (unsigned i = 0; i < format.nb_streams; ++i) {
        const AVStream& stream = *format.streams[i];
        sound = sound || stream.codecpar->codec_type == AVMEDIA_TYPE_AUDIO;
        if (stream.codecpar->codec_type != AVMEDIA_TYPE_VIDEO || is_cover(stream)) continue;
        const bool better = best >= 0 && (stream.disposition & AV_DISPOSITION_DEFAULT) != 0 &&
                            (format.streams[best]->disposition & AV_DISPOSITION_DEFAULT) == 0;
        if (best < 0 || better) best = static_cast<int>(i);
    }
    if (best >= 0) return best;
    if (sound)
        return Error{ErrorCode::bad_input,
                     fmt::format("{} holds sound only, no pictures; choose the film.", path.string())};
    return not_a_film(path);
}

Status check_size(const AVCodecParameters& video, const fs::path& path) {
    const std::int64_t area = std::int64_t{video.width} * video.height;
    if (video.width <= 0 || video.height <= 0)
        return Error{
            ErrorCode::bad_input,
            fmt::format("{} holds no readable picture: its size is not known. The file is damaged; copy it again "
                        "from the phone.",
                        path.string())};
    if (video.width > max_side_px || video.height > max_side_px || area > max_pixels)
        return Error{
            ErrorCode::bad_input,
            fmt::format("{} claims pictures of {} x {} samples, which is not a film from a camera; the file is "
                        "damaged or not what it seems.",
                        path.string(), video.width, video.height)};
    return ok();
}

}  // namespace

Result<Source> open_source(const fs::path& path) {
    prepare_libav();
    if (Status status = check_file(path); !status) return status.error();
    Result<InputPtr> format = open_format(path);
    if (!format) return format.error();
    Source source{std::move(format).value(), 0};
    look_into_streams(*source.format);
    const Result<int> video = choose_video(*source.format, path);
    if (!video) return video.error();
    source.video = *video;
    if (Status status = check_size(*source.stream()->codecpar, path); !status) return status.error();
    for (unsigned i = 0; i < source.format->nb_streams; ++i)
        if (static_cast<int>(i) != source.video) source.format->streams[i]->discard = AVDISCARD_ALL;
    return source;
}

bool read_video_packet(const Source& source, AVPacket& packet) {
    for (int failures = 0; failures < patience;) {
        av_packet_unref(&packet);
        const int status = av_read_frame(source.format.get(), &packet);
        if (status == AVERROR_EOF) return false;
        if (status < 0) {
            ++failures;
            continue;
        }
        if (packet.stream_index == source.video && packet.size > 0) return true;
    }
    return false;
}

Result<CodecPtr> open_decoder(const Source& source, const fs::path& path, DecoderSettings settings) {
    const AVStream& stream = *source.stream();
    const AVCodec* codec = avcodec_find_decoder(stream.codecpar->codec_id);
    const auto unsupported = [&] {
        return Error{ErrorCode::unsupported,
                     fmt::format("{} is compressed in a way ({}) this build cannot decode; convert it to H.264 first.",
                                 path.string(), avcodec_get_name(stream.codecpar->codec_id))};
    };
    if (codec == nullptr) return unsupported();
    CodecPtr decoder{avcodec_alloc_context3(codec)};
    if (!decoder || avcodec_parameters_to_context(decoder.get(), stream.codecpar) < 0) return unsupported();
    decoder->pkt_timebase = stream.time_base;
    decoder->max_pixels = max_pixels;
    decoder->thread_type = FF_THREAD_FRAME;
    const int cores = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
    decoder->thread_count = std::clamp(settings.threads > 0 ? settings.threads : cores, 1, 16);
    if (const int status = avcodec_open2(decoder.get(), codec, nullptr); status < 0)
        return status == AVERROR_INVALIDDATA
                   ? Error{ErrorCode::bad_input,
                           fmt::format(
                               "{} is damaged: its description of the pictures cannot be read. Copy it again from "
                               "the phone.",
                               path.string())}
                   : unsupported();
    return decoder;
}

}  // namespace quarterturn::media
