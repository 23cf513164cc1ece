#pragma once
#include <map>
#include <string>

#include "share/film_stills.hpp"
#include "share/html.hpp"
#include "share/season_view.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

/// Pose id -> the still of its steadiest moment; poses without one are shown without.
using PoseStills = std::map<std::string, Still>;

/// The whole page of a session.
/// @param season  the season it belongs to, for its charts; nullptr: without them
[[nodiscard]] std::string session_page(const SessionView& view, const PoseStills& stills, const SeasonView* season);

/// Its parts that a season's page shows too: what to know before reading, and the poses one by one.
[[nodiscard]] Html warning_section(const SessionView& view);
[[nodiscard]] Html pose_sections(const SessionView& view, const PoseStills& stills);

}  // namespace quarterturn::share
