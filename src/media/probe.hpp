#pragma once
/// What a film file says about itself.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/date.hpp"
#include "base/media_time.hpp"
#include "base/result.hpp"
#include "media/picture.hpp"

namespace quarterturn::media {

struct AudioStream {
    std::string codec;
    int sample_rate_hz = 0;
    int channels = 0;
};

struct ClipInfo {
    std::filesystem::path path;
    std::uint64_t file_bytes = 0;
    std::string container;  ///< libav's short name, e.g. "mov,mp4,m4a,3gp,3g2,mj2"
    std::string codec;      ///< e.g. "h264"
    TimeBase time_base;     ///< of the video stream; every pts is in it
    int width = 0;          ///< stored
    int height = 0;
    int sample_aspect_num = 1;  ///< a sample's width : height
    int sample_aspect_den = 1;
    /// The container's display rotation in (-180, 180], counter-clockwise as ffprobe prints it: -90 means "show turned
    /// 90 degrees clockwise" (a phone held upright). Only multiples of 90 occur; others are rounded with a warning.
    int rotation_deg = 0;
    /// The display matrix also mirrors: to show upright, mirror the stored picture top-bottom, then turn it.
    bool flipped = false;
    int bits = 8;
    Colour colour;
    double average_rate = 0;          ///< pictures per second over the whole clip; 0 when unknown
    bool variable_rate = false;       ///< picture distances differ by more than the time base's rounding
    std::int64_t frames_claimed = 0;  ///< by the container, without those an edit list hides; 0: it does not say
    double duration_s = 0;            ///< container's claim; 0 when unknown
    std::vector<AudioStream> audio;
    std::optional<Instant> recorded_at;  ///< UTC; absent when the file lost it (forwarded clips do)
    std::optional<double> capture_rate;  ///< pictures per second when filmed, where a slow-motion tag says so
    std::vector<std::string> warnings;   ///< plain sentences

    /// Size when shown upright with square samples.
    [[nodiscard]] int shown_width() const;
    [[nodiscard]] int shown_height() const;
    /// The same film with a person's word on its rotation instead of the file's, where there is one.
    [[nodiscard]] ClipInfo turned_to(std::optional<int> rotation) const;
};

/// Reads headers and decodes at most the first picture.
/// @error not_found, no_permission; bad_input: a folder, empty, no film inside, sound only, absurd dimensions, not
///        playable because its index (moov) is missing; unsupported: a codec this build cannot decode
[[nodiscard]] Result<ClipInfo> probe(const std::filesystem::path& path);

}  // namespace quarterturn::media
