#pragma once
#include <string>

#include "share/report_comparison.hpp"
#include "share/report_session.hpp"
#include "share/season_view.hpp"

namespace quarterturn::share {

/// The whole page of a season: hold times and scores towards the show, as charts and as a table, then the latest
/// session pose by pose.
/// @param latest  nullptr: that part is left out
/// @param beside  an earlier season's session beside the latest one; nullptr: that part is left out
[[nodiscard]] std::string season_page(const SeasonView& view, const SessionView* latest, const PoseStills& stills,
                                      const SeasonsBeside* beside = nullptr);

}  // namespace quarterturn::share
