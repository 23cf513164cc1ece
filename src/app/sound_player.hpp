#pragma once
/// Plays a clip's sound on a thread of its own and says how much of it was heard.
#include <atomic>
#include <condition_variable>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>

#include "app/sound_out.hpp"

namespace quarterturn::app {

/// A stretch that repeats, in the film's own seconds.
struct SoundStretch {
    double start_s = 0, end_s = 0;
};

class SoundPlayer {
  public:
    using OpenDevice = std::function<std::unique_ptr<SoundOut>()>;
    explicit SoundPlayer(OpenDevice open_device = open_sound_device);
    ~SoundPlayer() = default;
    SoundPlayer(const SoundPlayer&) = delete;
    SoundPlayer& operator=(const SoundPlayer&) = delete;

    /// Which film; what played before is stopped. Returns at once.
    void open(const std::filesystem::path& film);
    /// Gets ready to play from `from_s` at `speed`; `go` lets it be heard.
    void prepare(double from_s, double speed, std::optional<SoundStretch> repeat);
    /// @param skip_s  seconds of film that pictures are ahead already
    void go(double skip_s = 0);
    void pause();

    /// Seconds of film heard since `prepare`, counted on through repeats; absent while there is no sound to follow.
    [[nodiscard]] std::optional<double> heard() const;
    /// True once it is known that nothing will be heard: no device, or no sound in the film.
    [[nodiscard]] bool silent() const { return silent_; }

  private:
    struct Wanted {
        std::filesystem::path film;
        double from_s = 0, speed = 1, skip_s = 0;
        std::optional<SoundStretch> repeat;
        bool playing = false, going = false;
        std::uint64_t film_number = 0, play_number = 0;
    };
    class Worker;
    void run(const std::stop_token& stop);

    OpenDevice open_device_;
    std::mutex mutex_;
    std::condition_variable_any changed_;
    Wanted wanted_;
    std::atomic<double> heard_{-1};
    std::atomic<bool> silent_{false};
    std::jthread thread_;
};

}  // namespace quarterturn::app
