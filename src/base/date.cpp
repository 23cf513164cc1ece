#include "base/date.hpp"

#include <fmt/format.h>

#include <optional>

namespace quarterturn {
namespace {

/// Exactly `count` decimal digits at the front of `text`, removed from it.
std::optional<int> take_digits(std::string_view& text, std::size_t count) {
    if (text.size() < count) return std::nullopt;
    int value = 0;
    for (std::size_t i = 0; i < count; ++i) {
        if (text[i] < '0' || text[i] > '9') return std::nullopt;
        value = value * 10 + (text[i] - '0');
    }
    text.remove_prefix(count);
    return value;
}

bool take(std::string_view& text, std::string_view any_of) {
    if (text.empty() || any_of.find(text.front()) == std::string_view::npos) return false;
    text.remove_prefix(1);
    return true;
}

std::optional<Date> take_date(std::string_view& text) {
    const auto year = take_digits(text, 4);
    if (!year || !take(text, "-")) return std::nullopt;
    const auto month = take_digits(text, 2);
    if (!month || !take(text, "-")) return std::nullopt;
    const auto day = take_digits(text, 2);
    if (!day) return std::nullopt;
    const Date date{std::chrono::year{*year}, std::chrono::month{static_cast<unsigned>(*month)},
                    std::chrono::day{static_cast<unsigned>(*day)}};
    return date.ok() ? std::optional{date} : std::nullopt;
}

std::optional<std::chrono::milliseconds> take_fraction(std::string_view& text) {
    if (!take(text, ".")) return std::chrono::milliseconds{0};
    int value = 0;
    std::size_t digits = 0;
    for (; !text.empty() && text.front() >= '0' && text.front() <= '9'; ++digits, text.remove_prefix(1)) {
        if (digits < 3) value = value * 10 + (text.front() - '0');
    }
    if (digits == 0) return std::nullopt;
    for (; digits < 3; ++digits) value *= 10;
    return std::chrono::milliseconds{value};
}

std::optional<std::chrono::milliseconds> take_clock(std::string_view& text) {
    const auto hour = take_digits(text, 2);
    if (!hour || *hour > 23 || !take(text, ":")) return std::nullopt;
    const auto minute = take_digits(text, 2);
    if (!minute || *minute > 59 || !take(text, ":")) return std::nullopt;
    const auto second = take_digits(text, 2);
    if (!second || *second > 60) return std::nullopt;
    const auto fraction = take_fraction(text);
    if (!fraction) return std::nullopt;
    return std::chrono::hours{*hour} + std::chrono::minutes{*minute} + std::chrono::seconds{*second} + *fraction;
}

std::optional<std::chrono::minutes> take_offset(std::string_view& text) {
    if (take(text, "Zz")) return std::chrono::minutes{0};
    const bool west = !text.empty() && text.front() == '-';
    if (!take(text, "+-")) return std::nullopt;
    const auto hour = take_digits(text, 2);
    if (!hour || *hour > 23 || !take(text, ":")) return std::nullopt;
    const auto minute = take_digits(text, 2);
    if (!minute || *minute > 59) return std::nullopt;
    const auto offset = std::chrono::hours{*hour} + std::chrono::minutes{*minute};
    return west ? -offset : offset;
}

}  // namespace

Result<Date> parse_date(std::string_view text) {
    std::string_view rest = text;
    const auto date = take_date(rest);
    if (!date || !rest.empty())
        return Error{ErrorCode::bad_input, fmt::format("\"{}\" is not a date. Write it as 2026-05-03.", text)};
    return *date;
}

std::string format_date(Date date) {
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()));
}

Result<Instant> parse_instant(std::string_view text) {
    const Error bad{ErrorCode::bad_input, fmt::format("\"{}\" is not a time. Write it as 2026-05-03T09:15:00Z.", text)};
    std::string_view rest = text;
    const auto date = take_date(rest);
    if (!date || !take(rest, "Tt ")) return bad;
    const auto clock = take_clock(rest);
    if (!clock) return bad;
    const auto offset = take_offset(rest);
    if (!offset || !rest.empty()) return bad;
    return Instant{std::chrono::sys_days{*date}} + *clock - *offset;
}

std::string format_instant(Instant instant) {
    const auto day = std::chrono::floor<std::chrono::days>(instant);
    const std::chrono::hh_mm_ss clock{instant - day};
    return fmt::format("{}T{:02}:{:02}:{:02}.{:03}Z", format_date(Date{day}), clock.hours().count(),
                       clock.minutes().count(), clock.seconds().count(), clock.subseconds().count());
}

int days_between(Date from, Date to) {
    return static_cast<int>((std::chrono::sys_days{to} - std::chrono::sys_days{from}).count());
}

int weeks_out(Date day, Date show) {
    const int days = days_between(day, show);
    return days >= 0 ? days / 7 : -((-days + 6) / 7);
}

}  // namespace quarterturn
