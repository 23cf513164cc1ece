#pragma once
/// Decoded pictures waiting for their time, bounded in bytes. The decoding thread puts them in, the window takes the
/// one that is due; pictures whose time has passed are dropped, so that the film keeps up with its clock.
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <mutex>
#include <optional>
#include <stop_token>

#include "media/picture.hpp"

namespace quarterturn::app {

/// A picture and when it is due: seconds of film since play was pressed, counted on through loops.
struct DuePicture {
    media::Picture picture;
    double due_s = 0;
};

struct QueueCounts {
    std::int64_t shown = 0;
    std::int64_t dropped = 0;  ///< was never on screen because a later one was due already
};

/// Safe to use from one thread that puts and one that takes.
class PictureQueue {
  public:
    explicit PictureQueue(std::size_t budget_bytes) : budget_(budget_bytes) {}

    /// Waits while the queue is full (it always takes two pictures, whatever their size).
    /// @param ticket  what the latest `clear` gave (0 before any): pictures of an older one are refused
    /// @return false when `stop` was requested or the ticket is old: the picture was not taken
    bool put(DuePicture picture, std::uint64_t ticket, std::stop_token stop);

    /// The latest picture due at `now_s`; earlier ones are dropped. Absent when none is due.
    [[nodiscard]] std::optional<DuePicture> take(double now_s);

    /// When the next picture is due; absent when the queue is empty.
    [[nodiscard]] std::optional<double> next_due() const;

    /// Empties it; a waiting `put` returns false. Counts start again. @return the ticket from now on
    std::uint64_t clear();

    [[nodiscard]] std::size_t bytes() const;
    [[nodiscard]] QueueCounts counts() const;

  private:
    mutable std::mutex mutex_;
    std::condition_variable_any changed_;
    std::deque<DuePicture> waiting_;
    std::size_t budget_;
    std::size_t bytes_ = 0;
    std::uint64_t cleared_ = 0;
    QueueCounts counts_;
};

}  // namespace quarterturn::app
