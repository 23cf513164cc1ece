#include "posing/pose_templates.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace quarterturn::posing {
namespace {

using enum Feature;

// Body proportions behind the lengths: upper arm .186, forearm .146 of the height (Drillis and Contini 1966, from
// memory). An arm that hangs has its wrist .33 below the shoulder; hands on the waist are about .23 below it.

/// Arms held a little away from the body, or one hand on the hip; feet level and close, knees straight.
constexpr std::array quarter_facing{
    Expected{straighter_elbow, 148, 180, 10},   Expected{lower_wrist, -0.40, -0.27, 0.03},
    Expected{higher_wrist, -0.38, -0.15, 0.03}, Expected{wider_wrist, 0.045, 0.16, 0.012},
    Expected{foot_ahead, 0, 0.012, 0.008},      Expected{heels_apart, 0, 0.085, 0.03},
    Expected{hip_shift, 0, 0.0075, 0.003},      Expected{more_bent_knee, 166, 180, 6},
    Expected{wider_elbow, 0.036, 0.14, 0.007}};
constexpr std::array quarter_back_facing{
    Expected{straighter_elbow, 148, 180, 10},   Expected{lower_wrist, -0.40, -0.27, 0.03},
    Expected{higher_wrist, -0.38, -0.15, 0.03}, Expected{wider_wrist, 0.035, 0.16, 0.012},
    Expected{heels_apart, 0, 0.10, 0.03},       Expected{more_bent_knee, 166, 180, 6}};
/// Both arms hang beside the body, legs straight, looking ahead.
constexpr std::array quarter_side{
    Expected{near_elbow, 142, 180, 10},          Expected{near_wrist_ahead, -0.11, 0.06, 0.025},
    Expected{near_wrist_up, -0.39, -0.26, 0.03}, Expected{more_bent_knee, 156, 180, 8},
    Expected{head_turn, 0.034, 0.08, 0.010},     Expected{higher_wrist, -0.39, -0.20, 0.04}};
/// One foot ahead or the weight on one leg, arms as in the front stance or a hand on the hip. From a phone near the
/// floor a foot ahead does not show: there the weight tells.
constexpr std::array line_up{Expected{straighter_elbow, 148, 180, 10},   Expected{lower_wrist, -0.40, -0.27, 0.03},
                             Expected{higher_wrist, -0.38, -0.15, 0.03}, Expected{wider_wrist, 0.042, 0.16, 0.012},
                             Expected{foot_ahead, 0.014, 0.07, 0.008},   Expected{hip_shift, 0.0115, 0.06, 0.003},
                             Expected{more_bent_knee, 155, 180, 8},      Expected{wider_elbow, 0.031, 0.14, 0.007}};

/// Upper arms level, elbows at about 90 degrees.
constexpr std::array double_biceps{
    Expected{higher_elbow, -0.05, 0.09, 0.03},  Expected{lower_elbow, -0.08, 0.09, 0.03},
    Expected{straighter_elbow, 40, 125, 15},    Expected{more_bent_elbow, 30, 120, 15},
    Expected{higher_wrist, 0.07, 0.28, 0.03},   Expected{lower_wrist, 0.05, 0.28, 0.03},
    Expected{narrower_elbow, 0.10, 0.22, 0.03}, Expected{narrower_wrist, 0.04, 0.28, 0.04}};
/// Hands at the waist, elbows out.
constexpr std::array lat_spread{
    Expected{straighter_elbow, 50, 125, 12},      Expected{more_bent_elbow, 50, 120, 12},
    Expected{higher_wrist, -0.28, -0.13, 0.02},   Expected{lower_wrist, -0.29, -0.13, 0.02},
    Expected{narrower_elbow, 0.065, 0.18, 0.015}, Expected{wrists_apart, 0.13, 0.30, 0.015}};
/// Near arm bent across the waist, far hand on its wrist, near leg bent.
constexpr std::array side_chest{Expected{near_elbow, 65, 125, 15}, Expected{near_wrist_ahead, 0.05, 0.20, 0.025},
                                Expected{near_wrist_up, -0.27, -0.08, 0.03}, Expected{wrists_apart, 0, 0.11, 0.03}};
/// Near arm straight down behind the hip, held behind the back, near leg bent.
constexpr std::array side_triceps{
    Expected{near_elbow, 150, 180, 10},          Expected{near_wrist_ahead, -0.16, -0.03, 0.02},
    Expected{near_wrist_up, -0.39, -0.25, 0.03}, Expected{wrists_apart, 0, 0.11, 0.03},
    Expected{more_bent_knee, 105, 152, 8},       Expected{head_turn, -0.06, 0.032, 0.010}};
/// Hands behind the head, one leg ahead, the weight on the other.
constexpr std::array abdominals_and_thighs{
    Expected{higher_elbow, 0.03, 0.20, 0.03}, Expected{lower_elbow, 0.02, 0.20, 0.03},
    Expected{hands_from_head, 0, 0.09, 0.03}, Expected{straighter_elbow, 10, 85, 25},
    Expected{foot_ahead, 0.024, 0.14, 0.008}, Expected{hip_shift, 0.008, 0.06, 0.0025},
    Expected{hands_busy, 0, 0.009, 0.009},    Expected{heels_apart, 0, 0.055, 0.02}};
/// Hands behind the head, feet level, weight on both, belly drawn in.
constexpr std::array vacuum{Expected{higher_elbow, 0.03, 0.20, 0.03}, Expected{lower_elbow, 0.02, 0.20, 0.03},
                            Expected{hands_from_head, 0, 0.09, 0.03}, Expected{straighter_elbow, 10, 85, 25},
                            Expected{foot_ahead, 0, 0.014, 0.010},    Expected{hip_shift, 0, 0.0065, 0.0025},
                            Expected{head_down, -0.06, 0.003, 0.004}, Expected{hands_busy, 0, 0.009, 0.009},
                            Expected{heels_apart, 0, 0.050, 0.015}};
/// Hands brought together low in front of the body.
constexpr std::array most_muscular{
    Expected{wrists_apart, 0, 0.115, 0.015},   Expected{higher_wrist, -0.32, -0.12, 0.03},
    Expected{lower_wrist, -0.32, -0.12, 0.03}, Expected{narrower_elbow, 0.02, 0.14, 0.02},
    Expected{straighter_elbow, 60, 145, 12},   Expected{more_bent_elbow, 50, 145, 12}};
/// A free pose: told by one hand high and the other low.
constexpr std::array favourite_classic{
    Expected{hands_from_head, 0.16, 0.8, 0.03}, Expected{wrists_differ, 0.20, 0.65, 0.04},
    Expected{higher_wrist, 0.03, 0.32, 0.03}, Expected{higher_elbow, -0.05, 0.2, 0.03},
    Expected{wider_elbow, 0.10, 0.25, 0.03}};

/// Arms simply hang.
constexpr std::array relaxed{Expected{more_bent_elbow, 145, 180, 12}, Expected{higher_wrist, -0.40, -0.27, 0.03},
                             Expected{wider_wrist, -0.08, 0.036, 0.010}, Expected{wider_elbow, -0.06, 0.026, 0.008}};
constexpr std::array relaxed_to_the_side{
    Expected{near_elbow, 150, 180, 10}, Expected{near_wrist_up, -0.40, -0.28, 0.03},
    Expected{near_wrist_ahead, -0.03, 0.12, 0.02}, Expected{head_down, 0.016, 0.08, 0.006}};
/// Hands at the head that do not rest, looking down a little.
constexpr std::array in_the_hair{Expected{higher_wrist, 0.03, 0.22, 0.03},  Expected{lower_wrist, 0.00, 0.22, 0.03},
                                 Expected{wider_wrist, -0.17, 0.0, 0.03},   Expected{foot_ahead, 0, 0.016, 0.005},
                                 Expected{head_down, 0.003, 0.08, 0.004},   Expected{hands_busy, 0.018, 0.5, 0.007},
                                 Expected{heels_apart, 0.055, 0.20, 0.010}, Expected{hip_shift, 0.005, 0.06, 0.004}};

constexpr std::array templates{
    PoseTemplate{"quarter_front", "front stance", Facing::front, quarter_facing},
    PoseTemplate{"quarter_left_side", "left side to the judges", Facing::left_side, quarter_side},
    PoseTemplate{"quarter_back", "back stance", Facing::back, quarter_back_facing},
    PoseTemplate{"quarter_right_side", "right side to the judges", Facing::right_side, quarter_side},
    PoseTemplate{"line_up", "line-up", Facing::front, line_up},
    PoseTemplate{"front_double_biceps", "front double biceps", Facing::front, double_biceps},
    PoseTemplate{"front_lat_spread", "front lat spread", Facing::front, lat_spread},
    PoseTemplate{"side_chest", "side chest", Facing::side, side_chest},
    PoseTemplate{"back_double_biceps", "back double biceps", Facing::back, double_biceps},
    PoseTemplate{"back_lat_spread", "back lat spread", Facing::back, lat_spread},
    PoseTemplate{"side_triceps", "side triceps", Facing::side, side_triceps},
    PoseTemplate{"abdominals_and_thighs", "abdominals and thighs", Facing::front, abdominals_and_thighs},
    PoseTemplate{"most_muscular", "most muscular", Facing::front, most_muscular},
    PoseTemplate{"vacuum", "vacuum", Facing::front, vacuum},
    PoseTemplate{"favourite_classic", "favourite classic pose", Facing::front, favourite_classic},
    PoseTemplate{"", "standing about", Facing::front_or_back, relaxed},
    PoseTemplate{"", "standing about sideways", Facing::side, relaxed_to_the_side},
    PoseTemplate{"", "hands in the hair", Facing::any, in_the_hair}};

constexpr double most_for_one = 6;
// A foot read up the leg looks like one set back; and to a phone near the floor a foot ahead does not show.
constexpr double most_for_a_foot_ahead = 2.5, most_for_no_foot_ahead = 1.2;
/// The pelvis may be turned so far from what the pose asks for; beyond it counts against the pose.
constexpr double free_turn_deg = 28;
constexpr double turn_soft_deg = 12;
constexpr double least_weight = 0.25;
constexpr double not_looked_at = 1;  // nats

double too_far(double away_deg) {
    const double beyond = std::max(0.0, std::abs(away_deg) - free_turn_deg) / turn_soft_deg;
    return std::min(2 * most_for_one, beyond * beyond / 2);
}

double facing_misfit(Facing facing, std::optional<double> seen) {
    if (!seen || facing == Facing::any) return 0;
    const auto from = [&](double expected) { return too_far(std::remainder(*seen - expected, 360.0)); };
    switch (facing) {
        case Facing::front:
            return from(0);
        case Facing::back:
            return from(180);
        case Facing::front_or_back:
            return std::min(from(0), from(180));
        case Facing::left_side:
            return from(90);
        case Facing::right_side:
            return from(-90);
        default:
            return std::min(from(90), from(-90));
    }
}

double most_for(const Expected& expected, double seen) {
    if (expected.feature != Feature::foot_ahead) return most_for_one;
    return seen < expected.low ? most_for_no_foot_ahead : most_for_a_foot_ahead;
}

}  // namespace

std::span<const PoseTemplate> pose_templates() {
    return templates;
}

double misfit(const PoseTemplate& pose, const PoseFeatures& features) {
    double sum = facing_misfit(pose.facing, features.facing_deg);
    for (const Expected& expected : pose.expected) {
        const std::optional<SeenFeature>& seen = features[expected.feature];
        if (!seen) {
            sum += not_looked_at;
            continue;
        }
        const double outside = std::max({0.0, expected.low - seen->value, seen->value - expected.high}) / expected.soft;
        sum += std::max(least_weight, seen->seen) * std::min(most_for(expected, seen->value), outside * outside / 2);
    }
    return sum;
}

double share_seen(const PoseTemplate& pose, const PoseFeatures& features) {
    double sum = 0;
    for (const Expected& expected : pose.expected)
        if (const auto& seen = features[expected.feature]) sum += seen->seen;
    return pose.expected.empty() ? 0 : sum / static_cast<double>(pose.expected.size());
}

}  // namespace quarterturn::posing
