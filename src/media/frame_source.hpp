#pragma once
/// Packets in, pictures out, one decoder: what both readers are built on. Private to this room.
#include <cstdint>
#include <filesystem>
#include <optional>

#include "base/result.hpp"
#include "media/libav.hpp"
#include "media/picture.hpp"
#include "media/source.hpp"

namespace quarterturn::media {

/// What happened while reading, for the warnings.
struct ReadCounts {
    std::int64_t packets = 0;   ///< of the video stream, without those an edit list hides
    std::int64_t pictures = 0;  ///< handed on
    std::int64_t damaged = 0;   ///< handed on, but the decoder met errors in them
};

/// Decodes a source from its first key picture to its end.
class FrameSource {
  public:
    /// `path` is opened again where the start of the file had to be searched in vain for a key picture.
    FrameSource(Source source, CodecPtr decoder, const std::filesystem::path& path);

    /// The next frame in presentation order, valid until the next call; nullptr at the end.
    [[nodiscard]] AVFrame* next();

    [[nodiscard]] const Source& source() const { return source_; }
    [[nodiscard]] const ReadCounts& counts() const { return counts_; }

  private:
    void find_start(const std::filesystem::path& path);
    void feed();

    Source source_;
    CodecPtr decoder_;
    PacketPtr packet_ = new_packet();
    FramePtr frame_ = new_frame();
    bool packet_waits_ = false;  ///< packet_ holds the first packet to decode
    bool drained_ = false;
    std::int64_t trusted_from_ = INT64_MIN;  ///< pictures before it lack their references
    ReadCounts counts_;
};

}  // namespace quarterturn::media
