#pragma once
/// A season's numbers over the weeks, as sections of a page.
#include "share/html.hpp"
#include "share/season_view.hpp"

namespace quarterturn::share {

/// Seconds of each pose's longest hold, one chart per pose, all to the same scale; weeks out run down to the show.
[[nodiscard]] Html hold_charts(const SeasonView& view);

/// Scores of athlete, coach and program in one chart.
[[nodiscard]] Html score_chart(const SeasonView& view);

}  // namespace quarterturn::share
