#pragma once
#include <string>

#include "share/season_view.hpp"

namespace quarterturn::share {

/// The whole page of a season: hold times and scores towards the show, as charts and as tables.
[[nodiscard]] std::string season_page(const SeasonView& view);

}  // namespace quarterturn::share
