#pragma once
/// The numbers of one hold that are compared.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "compare/alignment.hpp"
#include "rules/rule_set.hpp"

namespace quarterturn::compare {

enum class Measure {
    hold_s,
    stillness,
    sway_rms,
    twist_rms,
    hand_height_difference,
    hands_fidget_rms,
    hands_settling,
    score,
    shoulder_width,
    waist_width,
    hip_width,
    facing,
    left_elbow,
    right_elbow,
    left_shoulder,
    right_shoulder,
    left_hip,
    right_hip,
    left_knee,
    right_knee
};
inline constexpr std::size_t measure_count = 20;

/// cm where both films know the athlete's height, else % of body height.
enum class Lengths { cm, pct };

/// "hold_s", "sway_rms_cm", "shoulder_width_pct", "left_elbow_deg"
[[nodiscard]] std::string measure_id(Measure measure, Lengths lengths);
[[nodiscard]] std::string_view measure_title(Measure measure);                  ///< for people: "Hold", "Sway (RMS)"
[[nodiscard]] std::string_view measure_unit(Measure measure, Lengths lengths);  ///< "s", "cm", "%", "°"
[[nodiscard]] int measure_decimals(Measure measure);
/// "4.7 s", "93°", "+0.03 cm" (signed), "0.006" for a unit that stands in the title.
[[nodiscard]] std::string measure_words(Measure measure, Lengths lengths, double value, bool is_signed = false);
[[nodiscard]] bool is_silhouette(Measure measure);  ///< about the body's outline: a setting hides these
[[nodiscard]] bool is_angle(Measure measure);

struct MeasuredHold {
    std::array<posing::Measured, measure_count> values;
    double width_error_pct = 0;  ///< one standard deviation, % of body height; 0: not known
    bool at_one_scale = false;   ///< widths of both holds are in heights of the later picture (comparison.cpp)
    [[nodiscard]] const posing::Measured& operator[](Measure m) const { return values[static_cast<std::size_t>(m)]; }
    [[nodiscard]] posing::Measured& operator[](Measure m) { return values[static_cast<std::size_t>(m)]; }
};

/// @param body     around the still moment (mirrored where the pair is); nullptr: angles are absent
/// @param rules    for the score: the program's marks of the measured items, weighted, percent; may be nullptr
/// @param lengths  cm only where the analysis knows the height
[[nodiscard]] MeasuredHold measure_hold(const posing::Segment& hold, const posing::Analysis& analysis,
                                        const StillBody* body, const rules::RuleSet* rules, Lengths lengths);

}  // namespace quarterturn::compare
