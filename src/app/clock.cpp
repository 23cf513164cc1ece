#include "app/clock.hpp"

#include <algorithm>
#include <chrono>

namespace quarterturn::app {

double steady_seconds() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

void PlaybackClock::start(double from_s, double speed) {
    running_ = true;
    from_s_ = from_s;
    shown_ = from_s;
    speed_ = speed;
    drift_ = 0;
    last_sound_.reset();
    started_at_ = source_();
}

void PlaybackClock::stop() {
    if (running_) shown_ = std::max(shown_, steady_position());
    running_ = false;
}

double PlaybackClock::steady_position() const {
    return from_s_ + (source_() - started_at_) * speed_;
}

double PlaybackClock::position(std::optional<double> sound_s) {
    if (!running_) return shown_;
    if (sound_s && sound_s != last_sound_) {
        // A new report of the device: take the steady clock along, so that it fills in from here.
        last_sound_ = sound_s;
        drift_ = steady_position() - *sound_s;
        from_s_ = *sound_s;
        started_at_ = source_();
    }
    shown_ = std::max(shown_, steady_position());
    return shown_;
}

}  // namespace quarterturn::app
