#pragma once
/// What the speakers get. Without a sound device everything goes on silently.
#include <cstddef>
#include <memory>
#include <optional>
#include <span>

namespace quarterturn::app {

/// A sink for 48 kHz stereo samples. Not thread-safe: the sound thread owns it.
class SoundOut {
  public:
    virtual ~SoundOut() = default;
    /// Hands samples (left, right, ...) to the device; returns at once.
    virtual void put(std::span<const float> samples) = 0;
    /// Pairs handed over and not heard yet.
    [[nodiscard]] virtual std::size_t waiting() const = 0;
    virtual void run(bool on) = 0;
    virtual void clear() = 0;
};

/// The system's sound device through SDL2; nullptr when there is none. May take a moment: not for the window's thread.
[[nodiscard]] std::unique_ptr<SoundOut> open_sound_device();

}  // namespace quarterturn::app
