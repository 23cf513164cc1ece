#pragma once
/// Writes a film: H.264 in MP4 (yuv420p, index in front) by default. No location, device or creation metadata unless
/// set.
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>

#include "base/date.hpp"
#include "base/media_time.hpp"
#include "base/result.hpp"
#include "media/image.hpp"
#include "media/picture.hpp"

namespace quarterturn::media {

struct FilmSettings {
    int width = 0;  ///< stored size; even
    int height = 0;
    TimeBase time_base{1, 90000};
    int quality = 23;       ///< constant rate factor of libx264, 0 (lossless) .. 51
    int rotation_deg = 0;   ///< display rotation to store, as in ClipInfo
    int audio_rate_hz = 0;  ///< 0: no sound; else mono AAC at this rate
    std::optional<Instant> recorded_at = std::nullopt;
    int threads = 0;
    bool deterministic = false;  ///< byte-identical output for identical input on every run (one thread)
};

/// The file appears under its name only when `finish` succeeds; destroying an unfinished writer leaves nothing behind.
class FilmWriter {
  public:
    /// @error no_permission, not_found (no such folder), unsupported, no_space, io
    [[nodiscard]] static Result<FilmWriter> create(const std::filesystem::path& path, const FilmSettings& settings);
    FilmWriter(FilmWriter&&) noexcept;
    FilmWriter& operator=(FilmWriter&&) noexcept;
    ~FilmWriter();

    /// Adds an RGB image of the stored size, shown from `pts` on (strictly increasing).
    [[nodiscard]] Status add(const Image& rgb, std::int64_t pts);
    /// The same with a picture as films are written (film_picture.hpp); its own pts does not matter. Cheaper.
    [[nodiscard]] Status add(const Picture& picture, std::int64_t pts);
    /// Appends mono samples in -1..1; sound starts at the first picture.
    [[nodiscard]] Status add_sound(std::span<const float> samples);
    [[nodiscard]] Status finish();

  private:
    struct State;
    explicit FilmWriter(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace quarterturn::media
