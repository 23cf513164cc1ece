#pragma once
/// Plays two films by one clock. Each film has a thread that decodes ahead of the clock into a queue of bounded size;
/// which picture is due when is laid down beforehand from the time map, so both follow the clock and neither the other.
#include <atomic>
#include <functional>
#include <memory>
#include <vector>

#include "app/clock.hpp"
#include "app/film_source.hpp"
#include "app/latest_wish.hpp"
#include "app/picture_queue.hpp"
#include "compare/sync.hpp"

namespace quarterturn::app {

/// A picture of a film and when it comes on screen, in seconds of the clock since play was pressed.
struct DueRank {
    double due_s = 0;
    std::size_t rank = 0;
};

/// What one film shows from `from_s` of the clock to `to_s`: one entry whenever the picture changes. The earlier film
/// may go back (by_pose) or stand (at its end).
/// @param seconds_at  moment of the film at a moment of the clock
[[nodiscard]] std::vector<DueRank> schedule(const media::FrameIndex& index, const posing::ClipFacts& clip,
                                            const std::function<double(double)>& seconds_at, double from_s,
                                            double to_s);

struct PairPlayerSettings {
    std::size_t ahead_bytes = 48U << 20U;  ///< for each film
    TimeSource time = steady_seconds;
    std::function<void()> wake;
};

/// One film of the pair.
class PairTrack {
  public:
    PairTrack(std::shared_ptr<FilmSource> source, const PairPlayerSettings& settings);

    void show(std::int64_t pts);
    void play(std::vector<DueRank> what);
    void stop();

    struct Now {
        std::optional<media::Picture> picture;
        std::optional<Error> error;
    };
    /// A picture that was asked for by show().
    [[nodiscard]] Now shown();
    /// The one due at `at_s`, while playing.
    [[nodiscard]] std::optional<media::Picture> due(double at_s);
    [[nodiscard]] std::optional<double> next_due() const { return queue_.next_due(); }
    [[nodiscard]] bool ready();  ///< the first picture is there, or never will be
    [[nodiscard]] std::size_t waiting_bytes() const { return queue_.bytes(); }
    [[nodiscard]] QueueCounts counts() const { return queue_.counts(); }
    [[nodiscard]] std::size_t passed_over() const { return passed_over_; }

  private:
    struct Wanted {
        std::uint64_t ticket = 0;  ///< of the queue
        std::optional<std::int64_t> show;
        std::vector<DueRank> play;
    };
    struct Brought {
        Now shown;
        bool over = false;  ///< nothing more will be put into the queue
    };
    using Decoding = LatestWish<Wanted, Brought>;
    void want(Wanted wanted);
    void show_one(const Decoding::Asked& asked);
    void play_on(const Decoding::Asked& asked);
    [[nodiscard]] Result<media::Picture> get(std::size_t rank);

    std::shared_ptr<FilmSource> source_;
    std::function<void()> wake_;
    PictureQueue queue_;
    std::atomic<double> at_s_{0};
    std::atomic<std::size_t> passed_over_{0};
    std::optional<std::size_t> last_rank_;  ///< decoded last; only the thread touches it
    Decoding decoding_;
};

class PairPlayer {
  public:
    PairPlayer(std::shared_ptr<FilmSource> now, std::shared_ptr<FilmSource> before, PairPlayerSettings settings = {});

    void show(std::int64_t now_pts, std::int64_t before_pts);
    /// From `from_s` of the clock on, to `to_s`. @param speed > 0
    void play(std::vector<DueRank> now, std::vector<DueRank> before, double from_s, double to_s, double speed);
    void pause();

    struct Now {
        std::optional<media::Picture> now, before;  ///< new ones
        std::optional<double> clock_s;              ///< while playing
        bool ended = false;
        std::optional<Error> error;
    };
    [[nodiscard]] Now poll();
    [[nodiscard]] std::optional<double> next_due_in();
    [[nodiscard]] const PairTrack& now_track() const { return now_; }
    [[nodiscard]] const PairTrack& before_track() const { return before_; }

  private:
    PlaybackClock clock_;
    PairTrack now_, before_;
    bool playing_ = false;
    double from_s_ = 0, to_s_ = 0, speed_ = 1;
};

}  // namespace quarterturn::app
