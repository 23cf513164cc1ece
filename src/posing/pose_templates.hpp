#pragma once
/// What each pose looks like, as data: ranges of features, from what the rules and the trade say about the pose and
/// from body proportions. docs/measurement.md has the table in words.
#include <optional>
#include <span>
#include <string_view>

#include "posing/pose_features.hpp"

namespace quarterturn::posing {

/// Within [low, high] it fits; outside it fits less by the square of the distance over `soft`.
struct Expected {
    Feature feature;
    double low, high, soft;
};

enum class Facing { front, back, front_or_back, side, left_side, right_side, any };

struct PoseTemplate {
    std::string_view pose;  ///< id; empty: what people do between poses
    std::string_view name;  ///< for documents and reasons
    Facing facing;
    std::span<const Expected> expected;
};

[[nodiscard]] std::span<const PoseTemplate> pose_templates();

/// How badly the features fit, in nats: 0 fits, each badly missed expectation adds at most 6. What was poorly seen
/// counts for less.
[[nodiscard]] double misfit(const PoseTemplate& pose, const PoseFeatures& features);

/// Share of the template's features that were seen, 0..1.
[[nodiscard]] double share_seen(const PoseTemplate& pose, const PoseFeatures& features);

}  // namespace quarterturn::posing
