#pragma once
#include "share/html.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

/// A pose's checklist: each item with what was measured and the marks of program, athlete and coach, the scores below.
/// @param why_not  said once below, about measured items for which the analysis has no entry; may be empty
[[nodiscard]] Html checklist_table(const PoseView& pose, const std::string& why_not);

}  // namespace quarterturn::share
