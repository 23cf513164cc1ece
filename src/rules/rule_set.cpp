#include "rules/rule_set.hpp"

#include <algorithm>

namespace quarterturn::rules {
namespace {

template <class Entry>
const Entry* find_by_id(const std::vector<Entry>& entries, std::string_view id) {
    const auto found = std::find_if(entries.begin(), entries.end(), [&](const Entry& entry) { return entry.id == id; });
    return found == entries.end() ? nullptr : &*found;
}

}  // namespace

const ChecklistItem* PoseExpectation::find_item(std::string_view id) const {
    return find_by_id(items, id);
}

const Choice* Setting::find_choice(std::string_view choice) const {
    return find_by_id(choices, choice);
}

const RoundLimit* RuleSet::find_round_limit(std::string_view limit) const {
    return find_by_id(round_limits, limit);
}

const Setting* RuleSet::find_setting(std::string_view setting) const {
    return find_by_id(settings, setting);
}

const PoseExpectation* RuleSet::find_pose(std::string_view pose) const {
    for (const PoseExpectation& expectation : poses) {
        if (expectation.pose == pose) return &expectation;
    }
    return nullptr;
}

std::vector<const PoseExpectation*> RuleSet::called() const {
    std::vector<const PoseExpectation*> found;
    for (const std::string& pose : call_order) {
        const PoseExpectation* expectation = find_pose(pose);
        if (expectation != nullptr && std::find(found.begin(), found.end(), expectation) == found.end())
            found.push_back(expectation);
    }
    return found;
}

const std::vector<std::string>& measured_items() {
    static const std::vector<std::string> items{"shoulders_level",  "feet_placed",      "elbows_matched",
                                                "upper_arms_level", "heel_distance",    "head_direction",
                                                "hands_matched",    "torso_twist_side", "stillness",
                                                "hold_length",      "transition_steps"};
    return items;
}

}  // namespace quarterturn::rules
