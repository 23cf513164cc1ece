#pragma once
/// Where the player gets its pictures: the exact reader in the program, made-up pictures in tests.
#include <cstdint>

#include "base/result.hpp"
#include "media/exact_reader.hpp"

namespace quarterturn::app {

class FilmSource {
  public:
    virtual ~FilmSource() = default;
    [[nodiscard]] virtual const media::FrameIndex& index() const = 0;
    [[nodiscard]] virtual Result<media::Picture> at(std::int64_t pts) = 0;
    /// The one after the picture given last. @error not_found at the end
    [[nodiscard]] virtual Result<media::Picture> next() = 0;
};

class ReaderSource : public FilmSource {
  public:
    explicit ReaderSource(media::ExactReader reader) : reader_(std::move(reader)) {}
    [[nodiscard]] const media::FrameIndex& index() const override { return reader_.index(); }
    [[nodiscard]] Result<media::Picture> at(std::int64_t pts) override { return reader_.frame_at(pts); }
    [[nodiscard]] Result<media::Picture> next() override { return reader_.next(); }

  private:
    media::ExactReader reader_;
};

}  // namespace quarterturn::app
