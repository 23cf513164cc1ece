#include "journal/camera_roll.hpp"

#include <algorithm>
#include <cctype>
#include <ctime>

namespace quarterturn::journal {
namespace {

using std::chrono::days;
using std::chrono::sys_days;

constexpr Instant first_believable = sys_days{std::chrono::year{2000} / 1 / 1};

Date local_day(Instant instant, const UtcOffset& offset) {
    return Date{std::chrono::floor<days>(instant + offset(instant))};
}

/// Files keep their time when they are copied, and can only be written after they were filmed. A clock that was never
/// set says 1904 or 1970; one set wrong may say any future day.
bool is_believable(const ClipFacts& clip) {
    return clip.recorded_at && *clip.recorded_at >= first_believable &&
           *clip.recorded_at <= clip.file_modified + days{1};
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

std::optional<int> digits_at(std::string_view text, std::size_t from, std::size_t count) {
    if (from + count > text.size()) return std::nullopt;
    int value = 0;
    for (const char c : text.substr(from, count)) {
        if (!is_digit(c)) return std::nullopt;
        value = value * 10 + (c - '0');
    }
    return value;
}

/// A date written at `from`, with one separator ('-', '_', '.', ' ') between its parts or none.
std::optional<Date> date_at(std::string_view name, std::size_t from) {
    const auto year = digits_at(name, from, 4);
    if (!year || *year < 2000 || *year > 2099) return std::nullopt;
    const char between = from + 4 < name.size() ? name[from + 4] : '\0';
    const bool separated = between != '\0' && std::string_view{"-_. "}.find(between) != std::string_view::npos;
    const std::size_t gap = separated ? 1 : 0;
    const auto month = digits_at(name, from + 4 + gap, 2);
    if (separated && (from + 7 >= name.size() || name[from + 7] != between)) return std::nullopt;
    const auto day = digits_at(name, from + 6 + 2 * gap, 2);
    const std::size_t end = from + 8 + 2 * gap;
    if (!month || !day || (end < name.size() && is_digit(name[end]))) return std::nullopt;
    const Date date{std::chrono::year{*year}, std::chrono::month{static_cast<unsigned>(*month)},
                    std::chrono::day{static_cast<unsigned>(*day)}};
    return date.ok() ? std::optional{date} : std::nullopt;
}

bool speaks_of_slow_motion(std::string_view name) {
    std::string lower{name};
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return lower.find("slow") != std::string::npos || lower.find("slo-mo") != std::string::npos ||
           lower.find("slomo") != std::string::npos;
}

}  // namespace

std::chrono::minutes local_utc_offset(Instant instant) {
    const std::time_t time = std::chrono::system_clock::to_time_t(instant);
    std::tm local{};
    if (::localtime_r(&time, &local) == nullptr) return std::chrono::minutes{0};
    return std::chrono::minutes{local.tm_gmtoff / 60};
}

std::optional<Date> date_in_name(std::string_view file_name) {
    for (std::size_t i = 0; i < file_name.size(); ++i) {
        if (i > 0 && is_digit(file_name[i - 1])) continue;  // in the middle of a longer number
        if (const auto date = date_at(file_name, i)) return date;
    }
    return std::nullopt;
}

DatedClip date_of(const ClipFacts& clip, const UtcOffset& offset) {
    if (is_believable(clip)) return {local_day(*clip.recorded_at, offset), DateSource::recording};
    if (const auto named = date_in_name(clip.path.filename().string())) return {*named, DateSource::file_name};
    return {local_day(clip.file_modified, offset), DateSource::file_date};
}

TrueSpeed true_speed(const ClipFacts& clip) {
    constexpr double same_rate = 1.05;  // tags are rounded: 119.88 against 120
    if (clip.capture_rate && clip.stored_rate && *clip.capture_rate > 0 && *clip.stored_rate > 0) {
        const double ratio = *clip.capture_rate / *clip.stored_rate;
        if (ratio > same_rate || ratio < 1 / same_rate) return {1 / ratio, SpeedSource::tagged, false};
        return {1, SpeedSource::tagged, false};
    }
    constexpr double fast_rate = 100;  // played this fast nothing was slowed down
    const bool plays_fast = clip.stored_rate && *clip.stored_rate >= fast_rate;
    return {1, SpeedSource::assumed, !plays_fast && speaks_of_slow_motion(clip.path.filename().string())};
}

}  // namespace quarterturn::journal
