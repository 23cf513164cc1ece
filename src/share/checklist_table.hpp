#pragma once
#include "share/html.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

/// A pose's checklist: each item with what was measured and the marks of program, athlete and coach, the scores below.
[[nodiscard]] Html checklist_table(const PoseView& pose);

}  // namespace quarterturn::share
