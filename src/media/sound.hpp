#pragma once
/// The sound of a clip for listening: 48 kHz stereo at any speed from 0.1 to 2 with its pitch kept.
#include <cstddef>
#include <filesystem>
#include <memory>
#include <vector>

#include "base/result.hpp"

namespace quarterturn::media {

inline constexpr int sound_rate_hz = 48000;

/// Not thread-safe; one per thread.
class SoundReader {
  public:
    /// @error as probe; missing_part: the clip has no sound; unsupported: a codec this build cannot decode
    [[nodiscard]] static Result<SoundReader> open(const std::filesystem::path& path);
    SoundReader(SoundReader&&) noexcept;
    SoundReader& operator=(SoundReader&&) noexcept;
    ~SoundReader();

    /// From now on `read` gives sound from `seconds` on (the film's own time, not counted from its first picture) at
    /// `speed`, 0.1 .. 2. At normal speed exact to one sample; at others the change of speed may move it by up to 20
    /// ms. @error io, bad_input: speed out of range
    [[nodiscard]] Status start(double seconds, double speed);

    /// Appends at least `frames` left/right pairs in -1..1 to `out` while there are that many; fewer: the sound has
    /// ended. Gaps in the sound are filled with silence, so a sample's place says its time.
    [[nodiscard]] Status read(std::size_t frames, std::vector<float>& out);

  private:
    struct State;
    explicit SoundReader(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace quarterturn::media
