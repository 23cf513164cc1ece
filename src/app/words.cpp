#include "app/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.hpp"

namespace quarterturn::app {
namespace {

constexpr std::array months{"January", "February", "March",     "April",   "May",      "June",
                            "July",    "August",   "September", "October", "November", "December"};

}  // namespace

std::string clock_time(double seconds, bool tenths) {
    // A tenth of a millisecond of grace: 7.4 may be stored as 7.3999999.
    const auto all = static_cast<long>(std::floor(std::max(0.0, seconds) * 10 + 0.001));
    const long whole = all / 10;
    const long hours = whole / 3600;
    std::string text = hours > 0 ? fmt::format("{}:{:02}:{:02}", hours, whole / 60 % 60, whole % 60)
                                 : fmt::format("{}:{:02}", whole / 60, whole % 60);
    if (tenths) text += fmt::format(".{}", all % 10);
    return text;
}

std::string length_text(double seconds) {
    return fmt::format("{:.1f} s", seconds);
}

std::string weeks_out_text(Date day, Date show) {
    const int days = days_between(day, show);
    if (days < 0) {
        const int weeks = (-days + 6) / 7;
        return fmt::format("{} week{} after the show", weeks, weeks == 1 ? "" : "s");
    }
    const int weeks = weeks_out(day, show);
    if (weeks == 0) return "show week";
    return fmt::format("{} week{} out", weeks, weeks == 1 ? "" : "s");
}

std::string day_text(Date date) {
    const auto month = static_cast<unsigned>(date.month());
    return fmt::format("{} {} {}", static_cast<unsigned>(date.day()), months.at((month + 11) % 12),
                       static_cast<int>(date.year()));
}

std::string speed_text(double speed) {
    return fmt::format("{:g}x", std::round(speed * 100) / 100);
}

std::string id_as_words(std::string_view id) {
    std::string text(id);
    std::replace(text.begin(), text.end(), '_', ' ');
    return text;
}

std::string path_text(const std::string& path, const std::string& home) {
    if (home.empty() || !path.starts_with(home + "/")) return path;
    return "~" + path.substr(home.size());
}

std::string shortened(std::string_view text, std::size_t length) {
    if (code_points(text) <= length || length < 4) return std::string(text);
    std::size_t end = 0;
    for (std::size_t points = 0; end < text.size(); ++end) {
        const bool starts = (static_cast<unsigned char>(text[end]) & 0xC0U) != 0x80U;
        if (starts && points++ == length - 3) break;
    }
    return std::string(text.substr(0, end)) + "...";
}

}  // namespace quarterturn::app
