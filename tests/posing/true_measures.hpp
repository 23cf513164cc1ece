#pragma once
/// Checklist values and hands of a hold from the true joints in space, and how far an analysis is off.
#include <map>
#include <string>
#include <vector>

#include "posing/analysis.hpp"
#include "rules/rule_set.hpp"
#include "truth.hpp"

namespace quarterturn::test {

/// Medians over the settled hold, in the units of checks.hpp and hands.hpp (cm): shoulders_level, elbows_matched,
/// upper_arms_level, heel_distance, hands_matched, head_direction, left_from_hip, right_from_hip. The whole bodies'
/// angles, not what a picture shows of them; the heels' distance across the view, as a phone straight ahead sees it.
[[nodiscard]] std::map<std::string, double> true_measures(const sample::Truth& truth, const sample::TrueSegment& hold,
                                                          double height_cm);

/// The rule set with every item that can be measured in every pose.
[[nodiscard]] rules::RuleSet with_every_check(rules::RuleSet rules);

struct MeasureError {
    std::string item, pose;
    double start_s = 0, truth = 0, found = 0;
    [[nodiscard]] double error() const { return found - truth; }
};

/// Of every check and hand measure that the analysis has a value for, in the holds that were found.
[[nodiscard]] std::vector<MeasureError> measure_errors(const posing::Analysis& analysis, const sample::Truth& truth,
                                                       double height_cm);

}  // namespace quarterturn::test
