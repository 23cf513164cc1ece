#pragma once
/// A film for tests without a file: pictures with times and no samples worth looking at.
#include <atomic>
#include <memory>
#include <thread>
#include <vector>

#include "app/film_source.hpp"

namespace quarterturn::app {

/// Decoding threads are real in tests, the time is not: waits for the threads, never for the clock.
template <class Done>
void until(Done done) {
    while (!done()) std::this_thread::yield();
}

class MadeUpFilm : public FilmSource {
  public:
    /// `pictures` pictures, `step` ticks of 1/1000 s apart, starting at `first`.
    MadeUpFilm(int pictures, std::int64_t step, std::int64_t first = 0, std::size_t bytes = 1000) : bytes_(bytes) {
        index_.time_base = {1, 1000};
        for (int i = 0; i < pictures; ++i) index_.pictures.push_back({first + i * step, first + i * step, i % 10 == 0});
    }
    [[nodiscard]] const media::FrameIndex& index() const override { return index_; }
    [[nodiscard]] Result<media::Picture> at(std::int64_t pts) override {
        const auto rank = index_.rank_of(pts);
        if (!rank) return Error{ErrorCode::not_found, "No picture there."};
        rank_ = *rank;
        return picture();
    }
    [[nodiscard]] Result<media::Picture> next() override {
        if (rank_ + 1 >= index_.pictures.size()) return Error{ErrorCode::not_found, "The film ends here."};
        ++rank_;
        return picture();
    }
    std::atomic<int> decoded{0};

  private:
    media::Picture picture() {
        ++decoded;
        media::Picture made;
        made.pts = index_.pictures[rank_].pts;
        made.planes[0].stride_bytes = static_cast<int>(bytes_);
        made.planes[0].height = 1;
        return made;
    }
    media::FrameIndex index_;
    std::size_t rank_ = 0;
    std::size_t bytes_;
};

}  // namespace quarterturn::app
