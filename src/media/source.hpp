#pragma once
/// An open film file and its video stream. Private to this room.
#include <filesystem>
#include <stop_token>

#include "base/result.hpp"
#include "media/libav.hpp"

namespace quarterturn::media {

/// Larger pictures than this are refused: 8K is 7680 x 4320, an absurd size is a damaged or hostile file.
inline constexpr int max_side_px = 16384;
inline constexpr std::int64_t max_pixels = 8192LL * 8192LL;

struct Source {
    InputPtr format;
    int video = 0;  ///< index of the video stream

    [[nodiscard]] AVStream* stream() const { return format->streams[video]; }
};

/// Opens a local file for reading. Only film, sound and picture formats are tried, and only local files are touched, so
/// a text file cannot send the program elsewhere. All streams but the video are set to be skipped.
/// @error see probe()
[[nodiscard]] Result<Source> open_source(const std::filesystem::path& path);

/// The next packet of the video stream into `packet`; false at the end of what can be read. The number of damaged
/// packets in a row is bounded, so a broken file ends.
[[nodiscard]] bool read_video_packet(const Source& source, AVPacket& packet);

/// A file cut out of a longer one may begin with pictures whose references are gone. The first key picture is looked
/// for among this many packets; without one there everything is decoded.
inline constexpr int start_search_packets = 300;

struct DecoderSettings {
    int threads = 0;  ///< 0: one per core
};

/// An opened decoder for the video stream.
/// @error unsupported, bad_input
[[nodiscard]] Result<CodecPtr> open_decoder(const Source& source, const std::filesystem::path& path,
                                            DecoderSettings settings);

}  // namespace quarterturn::media
