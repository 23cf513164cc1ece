#pragma once
/// Time labels of pictures as SMPTE ST 12-1 counts them: hours, minutes, seconds, pictures.
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace quarterturn {

/// How pictures are counted. Drop-frame leaves out labels, never pictures: at 30000/1001 pictures per second the first
/// two labels of every minute except every tenth (four at 60000/1001), so that labels keep up with the clock.
struct TimecodeRate {
    int pictures_per_second = 30;  ///< the rate rounded to a whole number: 24, 25, 30, 50, 60
    bool drop_frame = false;       ///< only with 30 and 60
};

/// "01:02:03:04", with ';' before the pictures when drop-frame; begins anew after 24 hours.
/// @param count  pictures since 00:00:00:00, not negative
/// @error bad_input: a negative count, or a rate without such labels
[[nodiscard]] Result<std::string> timecode_label(std::int64_t count, TimecodeRate rate);

/// The picture a label stands for.
/// @error bad_input: not such a label, a field out of range, or a label that drop-frame leaves out (00:01:00;00)
[[nodiscard]] Result<std::int64_t> timecode_count(std::string_view label, TimecodeRate rate);

}  // namespace quarterturn
