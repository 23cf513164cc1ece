#pragma once
/// Numbers, dates and people in the words of a report.
#include <optional>
#include <string>

#include "base/date.hpp"
#include "journal/note.hpp"
#include "journal/score.hpp"
#include "posing/analysis.hpp"
#include "rules/rule_set.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

[[nodiscard]] std::string date_words(Date date);           ///< "7 March 2026"
[[nodiscard]] std::string weeks_words(int days_to_show);   ///< "12 weeks out", "show week", "3 weeks after the show"
[[nodiscard]] std::string seconds_words(double seconds);   ///< "8.1 s"
[[nodiscard]] std::string clock_words(double seconds);     ///< minutes and seconds into a clip: "1:04.2"
[[nodiscard]] std::string role_words(journal::Role role);  ///< "Athlete", "Coach", "Measured"

/// "1.1°", "3.6 cm", "0.021 body heights/s", "2 steps".
[[nodiscard]] std::string value_words(double value, const std::string& unit);
[[nodiscard]] std::string limit_words(const rules::Limit& limit);  ///< "at most 3°"

/// "78 %"; "not marked" when nothing is.
[[nodiscard]] std::string percent_words(const journal::Score& score);

/// When a note is: "at 0:04.2 in a.mp4", "0:04.2 to 0:06.0 in a.mp4", "on the whole session".
[[nodiscard]] std::string note_place_words(const NoteView& note);

/// How a hold and its pose's name were had, one or two sentences.
[[nodiscard]] std::string origin_words(const SegmentView& hold, posing::Method method);

}  // namespace quarterturn::share
