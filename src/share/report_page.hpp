#pragma once
/// What every report page has: the shell that lets nothing in or out, the cautions and how the numbers were had.
#include <string>

#include "share/html.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

/// A whole document around `body`. A content security policy forbids scripts and every request; only the style sheet
/// and pictures inside the page are let through.
[[nodiscard]] std::string page(const std::string& title, const Html& body);

/// The page's opening: a small line above, the title, a line below.
[[nodiscard]] Html opening(const std::string& above, const std::string& title, const std::string& below);

/// The usual cautions for posing practice, deferring to coach and physician.
[[nodiscard]] Html cautions();

/// How hold times, marks and measures come about and what they do not say.
[[nodiscard]] Html how_numbers_were_had(bool motion_alone, bool landmarks);

/// A small block with a figure and what it is.
struct Fact {
    std::string name, value, more;
};
[[nodiscard]] Html facts(const std::vector<Fact>& list);

/// Scores of athlete, coach and program as facts: percent and how many of how many items are marked.
[[nodiscard]] std::vector<Fact> score_facts(const RoleScore& athlete, const RoleScore& coach, const RoleScore& program);

}  // namespace quarterturn::share
