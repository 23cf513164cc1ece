#pragma once
/// The numbers of a report as tables (RFC 4180; csv.hpp).
#include <string>

#include "share/season_view.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

[[nodiscard]] std::string holds_table(const SessionView& view);        ///< one record per hold of the clips that count
[[nodiscard]] std::string checklist_records(const SessionView& view);  ///< one per checklist item
[[nodiscard]] std::string notes_table(const SessionView& view);        ///< one per note
[[nodiscard]] std::string sessions_table(const SeasonView& view);      ///< one per session and pose

}  // namespace quarterturn::share
