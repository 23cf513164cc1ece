#pragma once
/// The composed views of a library, with the analyses that are in its cache: nothing is measured here.
#include <string>

#include "base/result.hpp"
#include "journal/store.hpp"
#include "share/measure.hpp"
#include "share/season_view.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

/// @param session  id @error not_found; as rules::load_rule_set
[[nodiscard]] Result<SessionView> view_of_session(const journal::Store& store, const journal::Library& library,
                                                  const std::string& session, const MeasureSettings& settings);
/// @param season  id @error not_found; as rules::load_rule_set
[[nodiscard]] Result<SeasonView> view_of_season(const journal::Store& store, const journal::Library& library,
                                                const std::string& season, const MeasureSettings& settings);

/// Fills in the program's marks of a session from what was measured. A person's own marks stay beside them; marks that
/// are the same already are not written again.
/// @error as view_of_session and journal::Store::set_marks
[[nodiscard]] Status keep_measured_marks(journal::Store& store, const std::string& session,
                                         const MeasureSettings& settings);

}  // namespace quarterturn::share
