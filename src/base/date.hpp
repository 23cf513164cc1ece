#pragma once
/// Calendar dates and instants as people and files write them.
#include <chrono>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace quarterturn {

using Date = std::chrono::year_month_day;
using Instant = std::chrono::sys_time<std::chrono::milliseconds>;

/// "2026-05-03" (RFC 3339 full-date). @error bad_input: another shape, or no such day
[[nodiscard]] Result<Date> parse_date(std::string_view text);
[[nodiscard]] std::string format_date(Date date);

/// RFC 3339 date-time with offset; "1996-12-19T16:39:57-08:00" is 1996-12-20T00:39:57Z. A leap second counts as the
/// second after it. @error bad_input
[[nodiscard]] Result<Instant> parse_instant(std::string_view text);
/// In UTC with milliseconds: "2026-05-03T09:15:00.000Z".
[[nodiscard]] std::string format_instant(Instant instant);

/// Whole days from `from` to `to`, negative when `to` is earlier.
[[nodiscard]] int days_between(Date from, Date to);

/// Weeks out: days to the show over seven, whole weeks rounded down; 0 in show week, negative after the show.
[[nodiscard]] int weeks_out(Date day, Date show);

}  // namespace quarterturn
