#pragma once
/// The athlete, seasons and sessions.
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "journal/record.hpp"

namespace quarterturn::journal {

/// One per library (Record::id is "athlete").
struct Athlete : Record {
    std::string name;
    std::optional<double> barefoot_height_cm;
    bool hide_body_numbers = false;  ///< widths and silhouettes are not shown
    std::string model_size;          ///< of the landmark model: "lite", "full", "heavy"; "": the program's default
    bool operator==(const Athlete&) const = default;
};

/// The run-up to one show.
struct Season : Record {
    std::string title;
    Date show_date{};
    std::string rule_set;                             ///< id; the division
    std::map<std::string, std::string> rule_choices;  ///< where federations differ: setting id -> choice id
    std::optional<double> barefoot_height_cm;         ///< else the athlete's
    std::map<std::string, double> target_hold_s;      ///< goals of her own: pose id -> seconds, else the rule set's
    bool operator==(const Season&) const = default;
};

/// Where a session's date comes from.
enum class DateSource { given, recording, file_name, file_date };
[[nodiscard]] std::string_view date_source_id(DateSource source);
[[nodiscard]] std::optional<DateSource> find_date_source(std::string_view id);

/// One day's practice.
struct Session : Record {
    std::string season;  ///< id
    Date date{};
    DateSource date_source = DateSource::given;
    std::optional<double> heel_height_cm;  ///< 0 is barefoot; absent is unknown
    std::string title;                     ///< may be empty
    /// Neither given by a person nor written by the camera: shown as guessed.
    [[nodiscard]] bool date_is_guessed() const;
    bool operator==(const Session&) const = default;
};

/// Height as the camera sees it: barefoot height (the season's, else the athlete's) plus heels. Absent when no height
/// is known. Unknown heels count as none.
[[nodiscard]] std::optional<double> standing_height_cm(const Athlete& athlete, const Season& season,
                                                       const Session& session);

}  // namespace quarterturn::journal
