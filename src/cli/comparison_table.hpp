#pragma once
#include <string>

#include "compare/comparison.hpp"

namespace quarterturn::cli {

/// For a terminal: the summary, a table for each pair, what has no counterpart, and what to know about the films.
[[nodiscard]] std::string comparison_table(const compare::Comparison& comparison, const rules::RuleSet* rules);

}  // namespace quarterturn::cli
