#pragma once
/// A rule set as a file: docs/rule_set.schema.json, docs/rule_set_format.md.
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "rules/rule_set.hpp"

namespace quarterturn::rules {

inline constexpr int rule_set_version = 1;

/// @error bad_input: the sentence names the place, e.g. "poses[2].items[0].weight: must be a number above 0";
///        newer_version: written for a newer program
[[nodiscard]] Result<RuleSet> read_rule_set(std::string_view text);

/// Indented UTF-8 text ending in a line feed; reading it again gives the same rule set, unknown fields included.
[[nodiscard]] std::string write_rule_set(const RuleSet& rule_set);

}  // namespace quarterturn::rules
