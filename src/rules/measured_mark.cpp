#include "rules/measured_mark.hpp"

#include <cmath>

namespace quarterturn::rules {
namespace {

int mark_from(double miss, double three, double two, double one) {
    if (miss <= 0) return 4;
    if (miss <= three) return 3;
    if (miss <= two) return 2;
    return miss <= one ? 1 : 0;
}

}  // namespace

bool is_met(double value, const Limit& limit) {
    return limit.comparison == Comparison::at_most ? std::abs(value) <= limit.value : value >= limit.value;
}

int mark_for(double value, const Limit& limit) {
    if (is_met(value, limit)) return 4;
    if (limit.value <= 0) return 0;  // no share of nothing
    if (limit.comparison == Comparison::at_most)
        return mark_from((std::abs(value) - limit.value) / limit.value, 0.25, 0.5, 1.0);
    return mark_from((limit.value - value) / limit.value, 0.15, 0.3, 0.5);
}

std::optional<Limit> limit_of(const PoseExpectation& pose, const ChecklistItem& item) {
    if (!item.measured) return std::nullopt;
    if (!item.limit && item.id == "hold_length") return Limit{Comparison::at_least, pose.target_hold_s, "s"};
    return item.limit;
}

}  // namespace quarterturn::rules
