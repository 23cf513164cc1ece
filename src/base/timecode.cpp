#include "base/timecode.hpp"

#include <fmt/format.h>

#include <array>

namespace quarterturn {
namespace {

constexpr std::int64_t minutes_per_day = 24 * 60;

Status check(TimecodeRate rate) {
    const bool countable = rate.pictures_per_second >= 1 && rate.pictures_per_second <= 99;
    const bool droppable = rate.pictures_per_second == 30 || rate.pictures_per_second == 60;
    if (countable && (!rate.drop_frame || droppable)) return ok();
    return Error{ErrorCode::bad_input, fmt::format("There are no {}time labels for {} pictures per second.",
                                                   rate.drop_frame ? "drop-frame " : "", rate.pictures_per_second)};
}

/// Labels left out at the start of a minute.
std::int64_t dropped_per_minute(TimecodeRate rate) {
    return rate.drop_frame ? rate.pictures_per_second / 15 : 0;
}

/// Labels left out before the minute begins, counting that minute's own.
std::int64_t dropped_until(std::int64_t minute, TimecodeRate rate) {
    return dropped_per_minute(rate) * (minute - minute / 10);
}

/// Two decimal digits at `at`; -1 when they are none.
int two_digits(std::string_view text, std::size_t at) {
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    if (!digit(text[at]) || !digit(text[at + 1])) return -1;
    return (text[at] - '0') * 10 + (text[at + 1] - '0');
}

}  // namespace

Result<std::string> timecode_label(std::int64_t count, TimecodeRate rate) {
    if (Status status = check(rate); !status) return status.error();
    if (count < 0) return Error{ErrorCode::bad_input, "A time label needs a picture count of 0 or more."};
    const std::int64_t minute_labels = 60 * rate.pictures_per_second;
    const std::int64_t dropped = dropped_per_minute(rate);
    const std::int64_t ten_minutes = 10 * minute_labels - 9 * dropped;
    count %= minutes_per_day / 10 * ten_minutes;
    // Within ten minutes the first minute is whole and the other nine are short.
    const std::int64_t within = count % ten_minutes;
    const std::int64_t short_minutes =
        within < minute_labels ? 0 : 1 + (within - minute_labels) / (minute_labels - dropped);
    const std::int64_t label = count + dropped * 9 * (count / ten_minutes) + dropped * short_minutes;
    const std::int64_t seconds = label / rate.pictures_per_second;
    return fmt::format("{:02}:{:02}:{:02}{}{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60,
                       rate.drop_frame ? ';' : ':', label % rate.pictures_per_second);
}

Result<std::int64_t> timecode_count(std::string_view label, TimecodeRate rate) {
    if (Status status = check(rate); !status) return status.error();
    const Error bad{ErrorCode::bad_input,
                    fmt::format("\"{}\" is not a time label like 01:02:03{}04.", label, rate.drop_frame ? ';' : ':')};
    const char last_mark = rate.drop_frame ? ';' : ':';
    if (label.size() != 11 || label[2] != ':' || label[5] != ':' || label[8] != last_mark) return bad;
    const std::array<int, 4> field{two_digits(label, 0), two_digits(label, 3), two_digits(label, 6),
                                   two_digits(label, 9)};
    const std::array<int, 4> limit{24, 60, 60, rate.pictures_per_second};
    for (std::size_t i = 0; i < field.size(); ++i)
        if (field[i] < 0 || field[i] >= limit[i]) return bad;
    const std::int64_t minute = std::int64_t{60} * field[0] + field[1];
    const bool left_out = minute % 10 != 0 && field[2] == 0 && field[3] < dropped_per_minute(rate);
    if (left_out)
        return Error{ErrorCode::bad_input, fmt::format("Drop-frame counting leaves out the label \"{}\".", label)};
    return (minute * 60 + field[2]) * rate.pictures_per_second + field[3] - dropped_until(minute, rate);
}

}  // namespace quarterturn
