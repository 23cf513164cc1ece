#pragma once
/// Fills in the poses of a session view: holds, checklists, marks and scores.
#include "share/session_view.hpp"

namespace quarterturn::share {

/// Sets SessionView::poses, unnamed and the scores from its clips and rule set and the library's marks.
void add_poses(const journal::Library& library, SessionView& view);

}  // namespace quarterturn::share
