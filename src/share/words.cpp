#include "share/words.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdlib>

namespace quarterturn::share {
namespace {

std::string counted(int count, const char* one) {
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

int percent_of(double share) {
    return static_cast<int>(std::lround(100 * share));
}

}  // namespace

std::string date_words(Date date) {
    constexpr std::array<const char*, 12> months{"January", "February", "March",     "April",   "May",      "June",
                                                 "July",    "August",   "September", "October", "November", "December"};
    const unsigned month = static_cast<unsigned>(date.month());
    if (!date.ok()) return "an unknown day";
    return fmt::format("{} {} {}", static_cast<unsigned>(date.day()), months.at(month - 1),
                       static_cast<int>(date.year()));
}

std::string weeks_words(int days_to_show) {
    if (days_to_show == 0) return "show day";
    if (days_to_show < 0) return counted(-days_to_show, "day") + " after the show";
    return days_to_show < 7 ? counted(days_to_show, "day") + " out" : counted(days_to_show / 7, "week") + " out";
}

std::string seconds_words(double seconds) {
    return fmt::format("{:.1f}\u00A0s", seconds);
}

std::string clock_words(double seconds) {
    const auto tenths = std::llround(std::max(seconds, 0.0) * 10);
    return fmt::format("{}:{:02}.{}", tenths / 600, tenths / 10 % 60, tenths % 10);
}

std::string role_words(journal::Role role) {
    if (role == journal::Role::athlete) return "Athlete";
    return role == journal::Role::coach ? "Coach" : "Measured";
}

std::string value_words(double value, const std::string& unit) {
    if (unit == "deg") return fmt::format("{:.1f}°", value);
    if (unit == "steps") return counted(static_cast<int>(std::lround(value)), "step");
    if (unit == "body heights/s") return fmt::format("{:.3f} body heights/s", value);
    return unit.empty() ? fmt::format("{:.1f}", value) : fmt::format("{:.1f}\u00A0{}", value, unit);
}

std::string limit_words(const rules::Limit& limit) {
    const char* word = limit.comparison == rules::Comparison::at_most ? "at most" : "at least";
    const bool whole = limit.value == std::floor(limit.value);
    if (limit.unit == "deg") return fmt::format("{} {:.{}f}°", word, limit.value, whole ? 0 : 1);
    if (limit.unit == "steps" || limit.unit == "body heights/s")
        return fmt::format("{} {}", word, value_words(limit.value, limit.unit));
    return fmt::format("{} {:.{}f}\u00A0{}", word, limit.value, whole ? 0 : 1, limit.unit);
}

std::string percent_words(const journal::Score& score) {
    return score.percent ? fmt::format("{:.0f}\u00A0%", *score.percent) : "not marked";
}

std::string note_place_words(const NoteView& note) {
    if (note.clip_name.empty()) return "on the whole session";
    if (!note.note.moment) return "on the clip " + note.clip_name;
    if (!note.start_s) return fmt::format("in {} (the time shows once the clip is analysed)", note.clip_name);
    if (note.end_s)
        return fmt::format("{} to {} in {}", clock_words(*note.start_s), clock_words(*note.end_s), note.clip_name);
    return fmt::format("at {} in {}", clock_words(*note.start_s), note.clip_name);
}

std::string origin_words(const SegmentView& hold, posing::Method method) {
    const bool by_person = hold.corrected && !hold.measured;
    std::string words = by_person                             ? "The hold was set by a person."
                        : method == posing::Method::landmarks ? "The hold was found from the joints of the body"
                                                              : "The hold was found from motion in the picture alone";
    if (!by_person)
        words +=
            fmt::format(" ({} % sure).", percent_of(hold.measured ? hold.measured->confidence : hold.now.confidence));
    const bool bounds_moved =
        hold.measured && (hold.measured->start_pts != hold.now.start_pts || hold.measured->end_pts != hold.now.end_pts);
    if (bounds_moved)
        words += fmt::format(" A person moved its ends; measured were {}.", seconds_words(hold.measured->duration_s()));
    if (hold.pose_by_person) return words + " A person said which pose it is.";
    if (hold.now.pose_source == posing::PoseSource::order)
        return words + fmt::format(" Which pose it is was guessed from the call order alone ({} % sure).",
                                   percent_of(hold.now.pose_confidence));
    if (hold.now.pose_source == posing::PoseSource::body)
        return words +
               fmt::format(" The pose was recognised from the body ({} % sure).", percent_of(hold.now.pose_confidence));
    return words;
}

}  // namespace quarterturn::share
