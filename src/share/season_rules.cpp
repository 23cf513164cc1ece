#include "rules/rule_sets.hpp"
#include "share/measure.hpp"

namespace quarterturn::share {

Result<rules::RuleSet> season_rules(const journal::Season& season, const std::filesystem::path& rules_folder) {
    auto loaded = rules::load_rule_set(season.rule_set, rules_folder);
    if (!loaded) return loaded;
    auto chosen = rules::with_choices(std::move(*loaded), season.rule_choices);
    if (!chosen) return chosen;
    for (auto& pose : chosen->poses) {
        if (const auto goal = season.target_hold_s.find(pose.pose); goal != season.target_hold_s.end())
            pose.target_hold_s = goal->second;
    }
    return chosen;
}

Result<rules::RuleSet> rule_set_of(const journal::Store& store, const journal::Season& season) {
    return season_rules(season, store.rules_folder());
}

}  // namespace quarterturn::share
