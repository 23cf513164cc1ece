#include "media/describe.hpp"

extern "C" {
#include <libavutil/display.h>
#include <libavutil/pixdesc.h>
}

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstring>

#include "media/picture_from.hpp"
#include "media/variable_rate.hpp"

namespace quarterturn::media {
namespace {

/// A tag of the file or of its video stream.
std::optional<std::string> tag(const Source& source, const char* key) {
    for (const AVDictionary* tags : {source.format->metadata, source.stream()->metadata})
        if (const AVDictionaryEntry* entry = av_dict_get(tags, key, nullptr, 0)) return std::string{entry->value};
    return std::nullopt;
}

/// When filming began. A clock at its zero point (1904 or 1970) means the camera did not know.
std::optional<Instant> recorded_at(const Source& source) {
    using namespace std::chrono;
    constexpr Instant earliest = sys_days{year{1971} / 1 / 1};
    for (const char* key : {"com.apple.quicktime.creationdate", "creation_time", "date"}) {
        std::optional<std::string> text = tag(source, key);
        if (!text) continue;
        // "+0200" as phones write it lacks the colon of RFC 3339.
        const std::size_t size = text->size();
        if (size > 5 && ((*text)[size - 5] == '+' || (*text)[size - 5] == '-') && text->find('T') != std::string::npos)
            text->insert(size - 2, ":");
        const Result<Instant> instant = parse_instant(*text);
        if (instant && *instant > earliest) return *instant;
    }
    return std::nullopt;
}

/// Pictures per second at filming, from the tag cameras write for slow motion.
std::optional<double> capture_rate(const Source& source) {
    for (const char* key :
         {"com.android.capture.fps", "com.apple.quicktime.capture.fps", "capture_fps", "CaptureFps"}) {
        const std::optional<std::string> text = tag(source, key);
        if (!text) continue;
        double rate = 0;
        const auto parsed = std::from_chars(text->data(), text->data() + text->size(), rate);
        if (parsed.ec == std::errc{} && std::isfinite(rate) && rate > 0 && rate < 100000) return rate;
    }
    return std::nullopt;
}

void describe_picture(const Source& source, ClipInfo& info) {
    const AVStream& stream = *source.stream();
    const AVCodecParameters& video = *stream.codecpar;
    const auto format = static_cast<AVPixelFormat>(video.format);
    info.width = video.width;
    info.height = video.height;
    const AVRational aspect =
        av_guess_sample_aspect_ratio(source.format.get(), source.format->streams[source.video], nullptr);
    // Ratios beyond 10 are damage, not optics.
    if (aspect.num > 0 && aspect.den > 0 && av_q2d(aspect) <= 10 && av_q2d(aspect) >= 0.1) {
        info.sample_aspect_num = aspect.num;
        info.sample_aspect_den = aspect.den;
    }
    info.bits = bits_for(format);
    info.colour = colour_from(video.color_space, video.color_range, video.color_trc, format, video.width, video.height);
}

void describe_turn(const Source& source, ClipInfo& info) {
    std::size_t size = 0;
    const std::uint8_t* data = av_stream_get_side_data(source.stream(), AV_PKT_DATA_DISPLAYMATRIX, &size);
    std::int32_t matrix[9];
    if (data == nullptr || size < sizeof matrix) return;
    std::memcpy(matrix, data, sizeof matrix);
    const Turn turn = turn_from(matrix);
    info.rotation_deg = turn.rotation_deg;
    info.flipped = turn.flipped;
    if (!turn.exact)
        info.warnings.push_back(fmt::format(
            "The film asks to be shown at an odd angle; it is shown turned by {} degrees.", turn.rotation_deg));
}

void describe_time(const Source& source, ClipInfo& info) {
    const AVStream& stream = *source.stream();
    info.time_base = time_base_of(stream.time_base);
    if (stream.duration > 0)
        info.duration_s = static_cast<double>(stream.duration) * av_q2d(stream.time_base);
    else if (source.format->duration > 0)
        info.duration_s = static_cast<double>(source.format->duration) / AV_TIME_BASE;
    info.frames_claimed = pictures_claimed(source);
    if (stream.avg_frame_rate.num > 0 && stream.avg_frame_rate.den > 0)
        info.average_rate = av_q2d(stream.avg_frame_rate);
    else if (info.frames_claimed > 0 && info.duration_s > 0)
        info.average_rate = static_cast<double>(info.frames_claimed) / info.duration_s;
}

void describe_sound(const Source& source, ClipInfo& info) {
    for (unsigned i = 0; i < source.format->nb_streams; ++i) {
        const AVCodecParameters& stream = *source.format->streams[i]->codecpar;
        if (stream.codec_type != AVMEDIA_TYPE_AUDIO) continue;
        info.audio.push_back({avcodec_get_name(stream.codec_id), stream.sample_rate, stream.ch_layout.nb_channels});
    }
}

}  // namespace

Turn turn_from(const std::int32_t (&matrix)[9]) {
    Turn turn;
    // A negative determinant mirrors. libav's angle is that of the image's x axis, so what is left besides it is a
    // mirroring top-bottom of the stored picture.
    const double determinant = static_cast<double>(matrix[0]) * matrix[4] - static_cast<double>(matrix[1]) * matrix[3];
    turn.flipped = determinant < 0;
    const double angle = av_display_rotation_get(matrix);
    if (!std::isfinite(angle)) return turn;
    const double quarter = std::round(angle / 90.0);
    turn.exact = std::abs(angle - quarter * 90.0) < 0.5;
    turn.rotation_deg = static_cast<int>(quarter) * 90;
    if (turn.rotation_deg <= -180) turn.rotation_deg += 360;
    return turn;
}

std::int64_t pictures_claimed(const Source& source) {
    AVStream* stream = source.stream();
    if (stream->nb_frames <= 0) return 0;
    if (std::string_view{source.format->iformat->name}.find("mov") == std::string_view::npos) return stream->nb_frames;
    // Only the index knows which pictures the edit list hides; nb_frames counts them all.
    const int entries = avformat_index_get_entries_count(stream);
    std::int64_t shown = 0;
    for (int i = 0; i < entries; ++i)
        if ((avformat_index_get_entry(stream, i)->flags & AVINDEX_DISCARD_FRAME) == 0) ++shown;
    return shown;
}

ClipInfo describe(const Source& source, const std::filesystem::path& path) {
    ClipInfo info;
    info.path = path;
    std::error_code ignored;
    info.file_bytes = std::filesystem::file_size(path, ignored);
    info.container = source.format->iformat->name;
    info.codec = avcodec_get_name(source.stream()->codecpar->codec_id);
    describe_picture(source, info);
    describe_turn(source, info);
    describe_time(source, info);
    describe_sound(source, info);
    info.variable_rate = has_variable_rate(source, path);
    info.recorded_at = recorded_at(source);
    info.capture_rate = capture_rate(source);
    return info;
}

}  // namespace quarterturn::media
