#pragma once
/// Reads a film forwards and gives the picture that is on screen at a time.
#include <optional>

#include "media/linear_reader.hpp"
#include "posing/analysis.hpp"

namespace quarterturn::share {

class FilmFollower {
  public:
    /// @param clip  must outlive this
    FilmFollower(media::LinearReader reader, const posing::ClipFacts& clip) : reader_(std::move(reader)), clip_(clip) {}

    /// The last picture not later than `seconds` (true seconds from the first picture); the first one before it. Never
    /// goes back: for an earlier time than before it is the same picture again. Valid until the next call.
    Result<const media::Picture*> at(double seconds);

    [[nodiscard]] const media::ClipInfo& info() const { return reader_.info(); }

  private:
    media::LinearReader reader_;
    const posing::ClipFacts& clip_;
    std::optional<media::Picture> shown_, next_;
    bool ended_ = false;
};

}  // namespace quarterturn::share
