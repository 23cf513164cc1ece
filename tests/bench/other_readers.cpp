#include "other_readers.hpp"

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
}
#include <ffms.h>

#include <array>
#include <cstdlib>
#include <opencv2/videoio.hpp>

namespace quarterturn::bench {

PictureHash hash_rows(const std::uint8_t* data, std::ptrdiff_t stride, std::size_t row_bytes, int rows) {
    PictureHash hash = 1469598103934665603ULL;  // FNV-1a over a part of each row: enough to tell noisy pictures apart
    for (int y = 0; y < rows; y += 3)
        for (std::size_t x = 0; x < row_bytes; x += 7)
            hash = (hash ^ data[y * stride + static_cast<std::ptrdiff_t>(x)]) * 1099511628211ULL;
    return hash;
}

struct NaiveReader::State {
    AVFormatContext* format = nullptr;
    AVCodecContext* codec = nullptr;
    AVPacket* packet = av_packet_alloc();
    AVFrame* frame = av_frame_alloc();
    int video = 0;
};

NaiveReader::NaiveReader(const std::filesystem::path& path, int threads) : state_(std::make_unique<State>()) {
    State& s = *state_;
    if (avformat_open_input(&s.format, path.c_str(), nullptr, nullptr) < 0 ||
        avformat_find_stream_info(s.format, nullptr) < 0)
        std::abort();
    const AVCodec* decoder = nullptr;
    s.video = av_find_best_stream(s.format, AVMEDIA_TYPE_VIDEO, -1, -1, &decoder, 0);
    s.codec = avcodec_alloc_context3(decoder);
    avcodec_parameters_to_context(s.codec, s.format->streams[s.video]->codecpar);
    s.codec->thread_count = threads;
    s.codec->thread_type = FF_THREAD_FRAME;
    if (avcodec_open2(s.codec, decoder, nullptr) < 0) std::abort();
}

NaiveReader::~NaiveReader() {
    av_frame_free(&state_->frame);
    av_packet_free(&state_->packet);
    avcodec_free_context(&state_->codec);
    avformat_close_input(&state_->format);
}

std::optional<PictureHash> NaiveReader::picture_at(std::int64_t pts) {
    State& s = *state_;
    if (av_seek_frame(s.format, s.video, pts, AVSEEK_FLAG_BACKWARD) < 0) return std::nullopt;
    avcodec_flush_buffers(s.codec);
    for (bool ended = false;;) {
        const int status = avcodec_receive_frame(s.codec, s.frame);
        if (status == 0) {
            if (s.frame->best_effort_timestamp < pts) continue;
            return hash_rows(s.frame->data[0], s.frame->linesize[0], static_cast<std::size_t>(s.frame->width),
                             s.frame->height);
        }
        if (status == AVERROR_EOF || ended) return std::nullopt;
        ended = av_read_frame(s.format, s.packet) < 0;
        if (ended || s.packet->stream_index == s.video) (void)avcodec_send_packet(s.codec, ended ? nullptr : s.packet);
        av_packet_unref(s.packet);
    }
}

struct FfmsReader::State {
    FFMS_VideoSource* source = nullptr;
    std::array<char, 512> text{};
    FFMS_ErrorInfo error{FFMS_ERROR_SUCCESS, FFMS_ERROR_SUCCESS, static_cast<int>(text.size()), text.data()};
};

FfmsReader::FfmsReader(const std::filesystem::path& path, int threads) : state_(std::make_unique<State>()) {
    FFMS_Init(0, 0);
    State& s = *state_;
    FFMS_Indexer* indexer = FFMS_CreateIndexer(path.c_str(), &s.error);
    if (indexer == nullptr) std::abort();
    FFMS_Index* index = FFMS_DoIndexing2(indexer, FFMS_IEH_ABORT, &s.error);
    if (index == nullptr) std::abort();
    const int track = FFMS_GetFirstTrackOfType(index, FFMS_TYPE_VIDEO, &s.error);
    s.source = FFMS_CreateVideoSource(path.c_str(), track, index, threads, FFMS_SEEK_NORMAL, &s.error);
    FFMS_DestroyIndex(index);
    if (s.source == nullptr) std::abort();
}

FfmsReader::~FfmsReader() {
    FFMS_DestroyVideoSource(state_->source);
}

std::optional<PictureHash> FfmsReader::picture_of_rank(int rank) {
    const FFMS_Frame* frame = FFMS_GetFrame(state_->source, rank, &state_->error);
    if (frame == nullptr) return std::nullopt;
    return hash_rows(frame->Data[0], frame->Linesize[0], static_cast<std::size_t>(frame->EncodedWidth),
                     frame->EncodedHeight);
}

struct OpenCvReader::State {
    cv::VideoCapture capture;
};

namespace {

std::optional<PictureHash> next_of(cv::VideoCapture& capture) {
    cv::Mat picture;
    if (!capture.read(picture)) return std::nullopt;
    return hash_rows(picture.data, static_cast<std::ptrdiff_t>(picture.step),
                     static_cast<std::size_t>(picture.cols) * 3, picture.rows);
}

}  // namespace

OpenCvReader::OpenCvReader(const std::filesystem::path& path) : state_(std::make_unique<State>()) {
    if (!state_->capture.open(path.string(), cv::CAP_FFMPEG)) std::abort();
}

OpenCvReader::~OpenCvReader() = default;

std::optional<PictureHash> OpenCvReader::picture_of_rank(int rank) {
    state_->capture.set(cv::CAP_PROP_POS_FRAMES, rank);
    return next_of(state_->capture);
}

std::vector<PictureHash> OpenCvReader::all_in_order(const std::filesystem::path& path) {
    cv::VideoCapture capture{path.string(), cv::CAP_FFMPEG};
    std::vector<PictureHash> result;
    while (const std::optional<PictureHash> hash = next_of(capture)) result.push_back(*hash);
    return result;
}

}  // namespace quarterturn::bench
