#pragma once
/// One pose of a session in its report.
#include <optional>

#include "share/film_stills.hpp"
#include "share/html.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

/// Length against the goal in a few words, and the class that colours them.
struct Verdict {
    std::string words;      ///< "goal reached", "1.9 s short", "not held"
    const char* kind = "";  ///< "reached", "short", ""
};
[[nodiscard]] Verdict verdict_of(const SessionView& view, const PoseView& pose);

[[nodiscard]] Html pose_section(const SessionView& view, const PoseView& pose, const std::optional<Still>& still);

/// Notes with their times; empty when there are none.
[[nodiscard]] Html note_list(const std::vector<NoteView>& notes);

}  // namespace quarterturn::share
