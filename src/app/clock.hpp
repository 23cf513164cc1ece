#pragma once
/// What time it is in the film. While sound plays, the sound says so; else a steady clock does. Pictures follow the
/// clock, never the other way round.
#include <functional>
#include <optional>

namespace quarterturn::app {

/// Seconds that only grow; the zero does not matter. Tests bring their own.
using TimeSource = std::function<double()>;
[[nodiscard]] double steady_seconds();

class PlaybackClock {
  public:
    explicit PlaybackClock(TimeSource source = steady_seconds) : source_(std::move(source)) {}

    /// From now on `position` grows from `from_s` by `speed` seconds of film per second. @param speed > 0
    void start(double from_s, double speed);
    void stop();
    [[nodiscard]] bool running() const { return running_; }

    /// Seconds of film. `sound_s` is what the sound says has been heard, where sound plays: it wins. The first
    /// report is taken as it is; later ones (devices count in blocks) pull the steady clock along bit by bit, unless
    /// they are 0.15 s of playing away. Never runs backwards between two starts.
    [[nodiscard]] double position(std::optional<double> sound_s = std::nullopt);

    /// How far the steady clock had run away from the sound when they were last compared, seconds of film.
    [[nodiscard]] double drift() const { return drift_; }

  private:
    [[nodiscard]] double steady_position() const;

    TimeSource source_;
    bool running_ = false;
    double from_s_ = 0;
    double started_at_ = 0;
    double speed_ = 1;
    double shown_ = 0;
    double drift_ = 0;
    std::optional<double> last_sound_;
};

}  // namespace quarterturn::app
