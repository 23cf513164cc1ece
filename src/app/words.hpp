#pragma once
/// Times and numbers as people read them.
#include <optional>
#include <string>

#include "base/date.hpp"

namespace quarterturn::app {

/// "0:07", "12:30", "1:02:03"; with tenths "0:07.4". Rounded down, as a clock shows it.
[[nodiscard]] std::string clock_time(double seconds, bool tenths);
/// "8.1 s"
[[nodiscard]] std::string length_text(double seconds);
/// "6 weeks out", "1 week out", "show week", "3 weeks after the show"
[[nodiscard]] std::string weeks_out_text(Date day, Date show);
/// "3 May 2026"
[[nodiscard]] std::string day_text(Date date);
/// "half speed" is 0.5: "0.5x"; normal: "1x"
[[nodiscard]] std::string speed_text(double speed);
/// "quarter_left_side" without a title: "quarter left side"
[[nodiscard]] std::string id_as_words(std::string_view id);
/// A path with the person's own folder as "~". @param home  empty: the path as it is
[[nodiscard]] std::string path_text(const std::string& path, const std::string& home);
/// At most `length` code points, "..." at the end when cut.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t length);

}  // namespace quarterturn::app
