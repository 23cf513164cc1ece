#pragma once
/// Mono AAC from samples in -1..1, in the portions the encoder wants. Private to this room.
#include <functional>
#include <span>
#include <vector>

#include "base/result.hpp"
#include "media/libav.hpp"

namespace quarterturn::media {

class SoundEncoder {
  public:
    using Sink = std::function<int(AVPacket&)>;  ///< libav error number, 0 or more: taken

    /// @error unsupported: no such encoder, or it refuses the rate
    [[nodiscard]] static Result<SoundEncoder> open(int rate_hz, bool global_header, bool deterministic);

    /// Hands finished packets (time base 1/rate) to `sink`. @return libav error number, 0: fine
    [[nodiscard]] int add(std::span<const float> samples, const Sink& sink);
    /// Encodes what is left, padded with silence to nothing more than the encoder needs.
    [[nodiscard]] int finish(const Sink& sink);

    [[nodiscard]] const AVCodecContext& codec() const { return *codec_; }

  private:
    explicit SoundEncoder(CodecPtr codec) : codec_(std::move(codec)) {}
    [[nodiscard]] int send(std::span<const float> samples, const Sink& sink);
    [[nodiscard]] int drain(const Sink& sink);

    CodecPtr codec_;
    std::vector<float> waiting_;
    std::int64_t sent_ = 0;  ///< samples given to the encoder
};

}  // namespace quarterturn::media
