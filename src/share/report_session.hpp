#pragma once
#include <map>
#include <string>

#include "share/film_stills.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

/// Pose id -> the still of its steadiest moment; poses without one are shown without.
using PoseStills = std::map<std::string, Still>;

/// The whole page of a session.
[[nodiscard]] std::string session_page(const SessionView& view, const PoseStills& stills);

}  // namespace quarterturn::share
