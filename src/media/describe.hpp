#pragma once
/// ClipInfo from an open source. Private to this room.
#include "media/probe.hpp"
#include "media/source.hpp"

namespace quarterturn::media {

/// Everything headers say; leaves the source at its beginning.
[[nodiscard]] ClipInfo describe(const Source& source, const std::filesystem::path& path);

/// Pictures the container claims, without those an edit list hides; 0 when it does not say.
[[nodiscard]] std::int64_t pictures_claimed(const Source& source);

/// Rotation in (-180, 180] as ffprobe prints it and whether the matrix mirrors, from the nine numbers of a display
/// matrix (ISO/IEC 14496-12 tkhd). `exact` is false where the angle had to be rounded to a multiple of 90.
struct Turn {
    int rotation_deg = 0;
    bool flipped = false;
    bool exact = true;
};
[[nodiscard]] Turn turn_from(const std::int32_t (&matrix)[9]);

}  // namespace quarterturn::media
