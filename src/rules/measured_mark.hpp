#pragma once
/// How a measured value becomes a mark. A scale of the program's own (no source), the same for every item.
#include <optional>

#include "rules/rule_set.hpp"

namespace quarterturn::rules {

/// Whether the value keeps to the limit. A value exactly on the limit does.
[[nodiscard]] bool is_met(double value, const Limit& limit);

/// 4 when the limit is kept; else by how far it is missed, as a share of the limit: up to 25 % gives 3, 50 % gives 2,
/// 100 % gives 1, more gives 0. For at_least the share is (limit - value) / limit: up to 15 % gives 3, 30 % 2, 50 % 1.
/// The size of the value counts for at_most (-3 degrees is as far off as +3).
[[nodiscard]] int mark_for(double value, const Limit& limit);

/// The limit that holds for an item of a pose: its own, or the pose's target for hold_length. Absent when judged by
/// eye.
[[nodiscard]] std::optional<Limit> limit_of(const PoseExpectation& pose, const ChecklistItem& item);

}  // namespace quarterturn::rules
