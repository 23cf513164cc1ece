#pragma once
/// What was measured in a hold, as sentences and as curves.
#include <string>
#include <vector>

#include "share/html.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

/// What stands out in a pose, each a sentence for the person: length against the goal, sway and twist apart from each
/// other, checklist items that were not kept to. About posing only.
[[nodiscard]] std::vector<std::string> what_stands_out(const SessionView& view, const PoseView& pose);

/// Curves of twist and of sway over the hold, one below the other; empty where neither was measured.
[[nodiscard]] Html hold_curves(const ClipView& clip, const posing::Segment& hold);

/// Which measures of the hold are not there, and why; empty when all are.
[[nodiscard]] std::string absent_words(const posing::Segment& hold);

}  // namespace quarterturn::share
