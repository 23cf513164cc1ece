#pragma once
/// Plays and shows one film: a thread decodes ahead, the window asks which picture is due now.
#include <memory>
#include <optional>

#include "app/clock.hpp"
#include "app/film_source.hpp"
#include "app/latest_wish.hpp"
#include "app/picture_queue.hpp"
#include "app/sound_player.hpp"
#include "journal/hold_correction.hpp"

namespace quarterturn::app {

struct PlayerSettings {
    std::size_t ahead_bytes = 64U << 20U;  ///< decoded pictures waiting for their time
    TimeSource time = steady_seconds;
    std::function<void()> wake;  ///< called from the decoding thread when a picture is ready
};

class Player {
  public:
    /// @param sound  may be null; must outlive the player
    Player(std::shared_ptr<FilmSource> source, SoundPlayer* sound, PlayerSettings settings = {});
    ~Player() = default;
    Player(const Player&) = delete;
    Player& operator=(const Player&) = delete;

    /// Shows a picture as soon as it is decoded; what was asked for before and is not decoded yet is forgotten.
    void show(std::int64_t pts);
    void play(std::int64_t from, double speed, std::optional<journal::PtsRange> repeat);
    void pause();

    /// Looked at once per frame.
    struct Now {
        std::optional<media::Picture> picture;  ///< a new one to put on screen
        bool ended = false;                     ///< the film has played to its end
        std::optional<Error> error;             ///< the picture asked for cannot be had
    };
    [[nodiscard]] Now poll();

    /// Seconds until the next picture is due; absent when nothing is coming by itself.
    [[nodiscard]] std::optional<double> next_due_in();

    [[nodiscard]] QueueCounts counts() const { return queue_.counts(); }
    [[nodiscard]] std::size_t waiting_bytes() const { return queue_.bytes(); }
    /// How far the steady clock ran away from the sound, seconds of film.
    [[nodiscard]] double drift() const { return clock_.drift(); }

  private:
    enum class Mode { idle, show, play };
    struct Wanted {
        Mode mode = Mode::idle;
        std::int64_t pts = 0;
        std::optional<journal::PtsRange> repeat;
        std::uint64_t ticket = 0;  ///< of the queue
    };
    struct Brought {
        std::optional<media::Picture> shown;
        std::optional<Error> error;
        std::optional<double> end_due;  ///< when the last picture's own time is over
    };
    using Decoding = LatestWish<Wanted, Brought>;
    void show_one(const Decoding::Asked& asked);
    void play_on(const Decoding::Asked& asked);
    void want(Wanted wanted);
    [[nodiscard]] double position();

    std::shared_ptr<FilmSource> source_;
    SoundPlayer* sound_;
    PlayerSettings settings_;
    PlaybackClock clock_;
    PictureQueue queue_;
    bool playing_ = false;
    double speed_ = 1;
    Decoding decoding_;
};

}  // namespace quarterturn::app
