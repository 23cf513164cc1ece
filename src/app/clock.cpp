#include "app/clock.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

namespace quarterturn::app {
namespace {

constexpr double near_s = 0.15;  // further away the sound has stopped or jumped
constexpr double lean = 0.1;     // of the distance at each report, some 20 ms apart

}  // namespace

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
        // Devices count in blocks, and reports come late by turns: following each at once would make pictures hurry and
        // wait, and drop some. The clock leans towards them instead, within a fifth of a second.
        drift_ = steady_position() - *sound_s;
        const bool near = last_sound_ && std::abs(drift_) < near_s * speed_;
        last_sound_ = sound_s;
        from_s_ = near ? steady_position() - lean * drift_ : *sound_s;
        started_at_ = source_();
    }
    shown_ = std::max(shown_, steady_position());
    return shown_;
}

}  // namespace quarterturn::app
