#pragma once
/// From a landmark series to the analysis: everything but twist and sway, which need the pictures themselves.
#include <cstdint>
#include <vector>

#include "posing/analyse.hpp"
#include "posing/landmark_segments.hpp"

namespace quarterturn::posing {

struct LandmarkInput {
    const body::ClipFacts& clip;  ///< time_scale and mirrored are heeded
    const body::LandmarkSeries& series;
    std::vector<std::int64_t> picture_pts;  ///< of every picture of the film, increasing; empty: the looked-at ones
    std::vector<body::Shake> shake;         ///< how the picture moved; empty: the phone stood still
    std::optional<double> tilt_deg;         ///< set by a person; absent: estimated
};

struct LandmarkAnalysis {
    Analysis analysis;
    LandmarkEvidence seen;  ///< for measures added later: signals.t_s are its frames in which somebody was seen
};

/// Twist and sway of every hold are absent with a reason; checks that need them too, until refresh_checks.
[[nodiscard]] LandmarkAnalysis analyse_landmarks(const LandmarkInput& input,
                                                 const std::optional<rules::RuleSet>& rules = {},
                                                 const AnalyseSettings& settings = {});

/// Makes the checks of every hold again: after twist or sway have been filled in.
void refresh_checks(Analysis& analysis, const LandmarkEvidence& seen, const std::optional<rules::RuleSet>& rules);

}  // namespace quarterturn::posing
