#pragma once
/// Ownership of libav objects and what its error numbers mean. Private to this room.
extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/hash.h>
#include <libswscale/swscale.h>
}

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

#include "base/media_time.hpp"
#include "base/result.hpp"

namespace quarterturn::media {

/// Deleter for libav's "free what the pointer points to and clear it" functions.
template <auto Free>
struct FreeWith {
    template <class T>
    void operator()(T* object) const noexcept {
        Free(&object);
    }
};
/// Deleter for the few functions that take the object itself.
template <auto Free>
struct FreeDirectly {
    template <class T>
    void operator()(T* object) const noexcept {
        Free(object);
    }
};

using InputPtr = std::unique_ptr<AVFormatContext, FreeWith<avformat_close_input>>;
using OutputPtr = std::unique_ptr<AVFormatContext, FreeDirectly<avformat_free_context>>;
using CodecPtr = std::unique_ptr<AVCodecContext, FreeWith<avcodec_free_context>>;
using FramePtr = std::unique_ptr<AVFrame, FreeWith<av_frame_free>>;
using PacketPtr = std::unique_ptr<AVPacket, FreeWith<av_packet_free>>;
using ScalerPtr = std::unique_ptr<SwsContext, FreeDirectly<sws_freeContext>>;
using HashPtr = std::unique_ptr<AVHashContext, FreeWith<av_hash_freep>>;
using IoPtr = std::unique_ptr<AVIOContext, FreeWith<avio_closep>>;

/// libav's own words for its error number.
[[nodiscard]] std::string libav_text(int error_number);

/// The Error for a failed libav call on `path`: a system error where the number is one, else `otherwise`.
[[nodiscard]] Error libav_error(int error_number, std::string_view action, const std::filesystem::path& path,
                                ErrorCode otherwise);

/// Allocation failing is the one thing that throws (std::bad_alloc).
[[nodiscard]] FramePtr new_frame();
[[nodiscard]] PacketPtr new_packet();

[[nodiscard]] inline TimeBase time_base_of(AVRational ratio) {
    return {ratio.num, ratio.den};
}

/// Keeps libav from writing to the person's terminal and from asking for absurd amounts of memory. Called before any
/// other use; cheap.
void prepare_libav();

}  // namespace quarterturn::media
