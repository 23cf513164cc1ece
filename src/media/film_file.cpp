#include "media/film_file.hpp"

extern "C" {
#include <libavutil/display.h>
}

namespace quarterturn::media {
namespace {

void set_rotation(AVStream& stream, int rotation_deg) {
    if (rotation_deg % 360 == 0) return;
    constexpr std::size_t size = 9 * sizeof(std::int32_t);
    std::uint8_t* data = av_stream_new_side_data(&stream, AV_PKT_DATA_DISPLAYMATRIX, size);
    // av_display_rotation_set turns clockwise, ClipInfo counts counter-clockwise.
    if (data != nullptr) av_display_rotation_set(reinterpret_cast<std::int32_t*>(data), -rotation_deg);
}

}  // namespace

Result<FilmFile> FilmFile::create(const std::filesystem::path& path) {
    Result<PartFile> part = PartFile::create(path);
    if (!part) return part.error();
    AVFormatContext* raw = nullptr;
    const std::string url = "file:" + part->part().string();
    if (avformat_alloc_output_context2(&raw, nullptr, "mp4", url.c_str()) < 0)
        return Error{ErrorCode::unsupported, "This build cannot write MP4 films."};
    FilmFile file{std::move(*part), OutputPtr{raw}};
    // No program name and no clock time in the file.
    raw->flags |= AVFMT_FLAG_BITEXACT;
    if (const int status = avio_open(&raw->pb, url.c_str(), AVIO_FLAG_WRITE); status < 0) return file.error(status);
    file.io_.reset(raw->pb);
    return file;
}

Status FilmFile::write_head() {
    AVDictionary* options = nullptr;
    av_dict_set(&options, "movflags", "+faststart", 0);
    const int status = avformat_write_header(format_.get(), &options);
    av_dict_free(&options);
    return status < 0 ? Status{error(status)} : ok();
}

Status FilmFile::finish() {
    if (const int status = av_write_trailer(format_.get()); status < 0) return error(status);
    AVIOContext* io = io_.release();
    format_->pb = nullptr;
    if (const int status = avio_closep(&io); status < 0) return error(status);
    return file_.publish();
}

Error FilmFile::error(int status) const {
    return libav_error(status, "write", file_.final_path(), ErrorCode::io);
}

AVStream& add_stream(FilmFile& file, const AVCodecContext& encoder, int rotation_deg) {
    AVStream* stream = avformat_new_stream(&file.format(), nullptr);
    stream->time_base = encoder.time_base;
    if (encoder.codec_type == AVMEDIA_TYPE_VIDEO) stream->avg_frame_rate = encoder.framerate;
    avcodec_parameters_from_context(stream->codecpar, &encoder);
    set_rotation(*stream, rotation_deg);
    return *stream;
}

}  // namespace quarterturn::media
