#pragma once
/// Packets in, pictures out, one decoder: what both readers are built on. Private to this room.
#include <cstdint>
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

/// Decodes a source from where it stands to its end.
class FrameSource {
  public:
    FrameSource(Source source, CodecPtr decoder);

    /// The next frame in presentation order, valid until the next call; nullptr at the end.
    [[nodiscard]] AVFrame* next();

    [[nodiscard]] const Source& source() const { return source_; }
    [[nodiscard]] const ReadCounts& counts() const { return counts_; }

  private:
    void feed();

    Source source_;
    CodecPtr decoder_;
    PacketPtr packet_ = new_packet();
    FramePtr frame_ = new_frame();
    bool drained_ = false;
    ReadCounts counts_;
};

}  // namespace quarterturn::media
