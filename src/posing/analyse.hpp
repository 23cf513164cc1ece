#pragma once
/// From what a film shows to the analysis: a pure function of the film's bytes, the rule set and the program's version.
#include <optional>

#include "body/motion.hpp"
#include "posing/analysis.hpp"
#include "posing/call_order.hpp"
#include "posing/still_stretches.hpp"
#include "rules/rule_set.hpp"

namespace quarterturn::posing {

struct AnalyseSettings {
    std::optional<double> height_cm;  ///< the athlete's
    HoldSettings holds;
    double longest_transition_s = 5.0;  ///< more restlessness between two holds is a pause
    CallOrderCosts call_order;
};

/// Holds, transitions and pauses from movement alone. What movement does not show (facing, twist, sway, steps) is
/// absent with a reason. Poses are told by the rule set's call order alone, so never surer than 0.5; without a rule set
/// no hold has a pose.
[[nodiscard]] Analysis analyse_motion(const body::ObservedMotion& seen, const std::optional<rules::RuleSet>& rules = {},
                                      const AnalyseSettings& settings = {});

}  // namespace quarterturn::posing
