#include "rules/rule_sets.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/file.hpp"
#include "rules/embedded.hpp"
#include "rules/json_reader.hpp"
#include "rules/rule_set_json.hpp"

namespace quarterturn::rules {
namespace {

namespace fs = std::filesystem;

Result<RuleSet> from_file(const fs::path& path) {
    const auto text = read_file(path, 16U << 20U);
    if (!text) return text.error();
    auto rule_set = read_rule_set(*text);
    if (!rule_set) return Error{rule_set.error().code, fmt::format("{}: {}", path.string(), rule_set.error().detail)};
    return rule_set;
}

template <class Entry>
std::string ids_of(const std::vector<Entry>& entries) {
    std::vector<std::string> ids;
    for (const Entry& entry : entries) ids.push_back(entry.id);
    return fmt::format("{}", fmt::join(ids, ", "));
}

void replace_round_limits(RuleSet& rule_set, const std::vector<RoundLimit>& limits) {
    for (const RoundLimit& limit : limits) {
        const auto same = std::find_if(rule_set.round_limits.begin(), rule_set.round_limits.end(),
                                       [&](const RoundLimit& old) { return old.id == limit.id; });
        if (same == rule_set.round_limits.end())
            rule_set.round_limits.push_back(limit);
        else
            *same = limit;
    }
}

void change_items(RuleSet& rule_set, const Choice& choice) {
    for (PoseExpectation& pose : rule_set.poses) {
        for (ChecklistItem& item : pose.items) {
            const auto limit = choice.item_limits.find(item.id);
            if (limit != choice.item_limits.end() && item.limit) item.limit->value = limit->second;
            const auto text = choice.item_texts.find(item.id);
            if (text != choice.item_texts.end()) item.text = text->second;
        }
    }
}

void apply(RuleSet& rule_set, const Choice& choice) {
    if (!choice.call_order.empty()) rule_set.call_order = choice.call_order;
    if (choice.judges_dropped) rule_set.judges_dropped = *choice.judges_dropped;
    replace_round_limits(rule_set, choice.round_limits);
    change_items(rule_set, choice);
}

}  // namespace

const std::vector<std::string>& bundled_rule_sets() {
    static const std::vector<std::string> ids{"womens_bikini",         "womens_wellness",     "womens_figure",
                                              "womens_physique",       "womens_bodybuilding", "mens_physique",
                                              "mens_classic_physique", "mens_bodybuilding"};
    return ids;
}

std::string_view bundled_rule_set_text(std::string_view id) {
    for (const EmbeddedFile& file : embedded_files()) {
        if (file.name == id) return file.text;
    }
    return {};
}

Result<RuleSet> bundled_rule_set(std::string_view id) {
    const std::string_view text = bundled_rule_set_text(id);
    if (text.empty())
        return Error{ErrorCode::not_found, fmt::format("There is no rule set \"{}\". Those that come along: {}. A rule "
                                                       "set of your own is given as the path of its .json file.",
                                                       id, fmt::join(bundled_rule_sets(), ", "))};
    return read_rule_set(text);
}

Result<RuleSet> load_rule_set(std::string_view id_or_path, const fs::path& folder) {
    if (id_or_path.find('/') != std::string_view::npos || id_or_path.ends_with(".json"))
        return from_file(fs::path{id_or_path});
    std::error_code failure;
    if (!folder.empty() && is_identifier(id_or_path)) {
        const fs::path own = folder / fmt::format("{}.json", id_or_path);
        if (fs::exists(own, failure)) return from_file(own);
    }
    return bundled_rule_set(id_or_path);
}

Result<RuleSet> with_choice(RuleSet rule_set, std::string_view setting, std::string_view choice) {
    const auto found = std::find_if(rule_set.settings.begin(), rule_set.settings.end(),
                                    [&](const Setting& entry) { return entry.id == setting; });
    if (found == rule_set.settings.end())
        return Error{ErrorCode::not_found, fmt::format("{} has no setting \"{}\". It has: {}.", rule_set.title, setting,
                                                       ids_of(rule_set.settings))};
    const Choice* wanted = found->find_choice(choice);
    if (wanted == nullptr)
        return Error{ErrorCode::not_found, fmt::format("The setting \"{}\" has no choice \"{}\". It has: {}.", setting,
                                                       choice, ids_of(found->choices))};
    found->chosen = wanted->id;
    apply(rule_set, Choice{*wanted});
    return rule_set;
}

Result<RuleSet> with_choices(RuleSet rule_set, const std::map<std::string, std::string>& choices) {
    for (const auto& [setting, choice] : choices) {
        auto changed = with_choice(std::move(rule_set), setting, choice);
        if (!changed) return changed;
        rule_set = *std::move(changed);
    }
    return rule_set;
}

}  // namespace quarterturn::rules
