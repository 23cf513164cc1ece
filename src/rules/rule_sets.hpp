#pragma once
/// The rule sets that come with the program, and the person's own beside them.
#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "rules/rule_set.hpp"

namespace quarterturn::rules {

/// Ids of the eight that come along, women's divisions first.
[[nodiscard]] const std::vector<std::string>& bundled_rule_sets();

/// One that comes along, with its default choices.
/// @error not_found: no such id; the sentence lists those there are
[[nodiscard]] Result<RuleSet> bundled_rule_set(std::string_view id);

/// The file text of one that comes along: a start for a person's own. Empty when there is no such id.
[[nodiscard]] std::string_view bundled_rule_set_text(std::string_view id);

/// `id_or_path`: a path (it has a slash or ends in .json), else `<folder>/<id>.json` where that exists (a library's
/// "rules" folder; may be empty), else one that comes along.
/// @error not_found, no_permission, io, bad_input, newer_version
[[nodiscard]] Result<RuleSet> load_rule_set(std::string_view id_or_path, const std::filesystem::path& folder = {});

/// The rule set with one setting changed.
/// @error not_found: no such setting or choice; the sentence lists those there are
[[nodiscard]] Result<RuleSet> with_choice(RuleSet rule_set, std::string_view setting, std::string_view choice);

/// The same for several settings: setting id -> choice id.
[[nodiscard]] Result<RuleSet> with_choices(RuleSet rule_set, const std::map<std::string, std::string>& choices);

}  // namespace quarterturn::rules
