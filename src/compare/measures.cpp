#include "compare/measures.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "posing/pose_features.hpp"
#include "rules/measured_mark.hpp"

namespace quarterturn::compare {
namespace {

using posing::Measured;

struct Facts {
    std::string_view id, title, unit;  ///< lengths: without unit
    int decimals;
    enum class Kind { plain, length, silhouette, angle } kind;
};
using enum Facts::Kind;
constexpr std::array<Facts, measure_count> facts{{
    {"hold_s", "Hold", "s", 1, plain},
    {"stillness", "Speed in the hold, body heights/s (less is stiller)", "body heights/s", 3, plain},
    {"sway_rms", "Sway (RMS)", "", 2, length},
    {"twist_rms_deg", "Twist (RMS)", "°", 1, plain},
    {"hand_height_difference", "Left hand over right hand", "", 1, length},
    {"hands_fidget_rms", "Hands, fidgeting (RMS)", "", 2, length},
    {"hands_settling_s", "Hands, settling", "s", 1, plain},
    {"score_pct", "Score, measured items", "%", 1, plain},
    {"shoulder_width_pct", "Shoulder width over height", "%", 1, silhouette},
    {"waist_width_pct", "Waist width over height", "%", 1, silhouette},
    {"hip_width_pct", "Hip width over height", "%", 1, silhouette},
    {"facing_deg", "Facing", "°", 0, angle},
    {"left_elbow_deg", "Left elbow", "°", 0, angle},
    {"right_elbow_deg", "Right elbow", "°", 0, angle},
    {"left_shoulder_deg", "Left upper arm to trunk", "°", 0, angle},
    {"right_shoulder_deg", "Right upper arm to trunk", "°", 0, angle},
    {"left_hip_deg", "Left hip", "°", 0, angle},
    {"right_hip_deg", "Right hip", "°", 0, angle},
    {"left_knee_deg", "Left knee", "°", 0, angle},
    {"right_knee_deg", "Right knee", "°", 0, angle},
}};

const Facts& facts_of(Measure measure) {
    return facts[static_cast<std::size_t>(measure)];
}

/// A length of the analysis in what is asked for.
Measured length_in(const Measured& length, const posing::Analysis& analysis, Lengths lengths) {
    if (!length.value || lengths == Lengths::cm || !analysis.height_cm) return length;
    return {*length.value / *analysis.height_cm * 100, ""};
}

struct AngleAt {
    Measure measure;
    body::Joint at, a, b;
};
using enum body::Joint;
constexpr std::array angles{AngleAt{Measure::left_elbow, left_elbow, left_shoulder, left_wrist},
                            AngleAt{Measure::right_elbow, right_elbow, right_shoulder, right_wrist},
                            AngleAt{Measure::left_shoulder, left_shoulder, left_elbow, left_hip},
                            AngleAt{Measure::right_shoulder, right_shoulder, right_elbow, right_hip},
                            AngleAt{Measure::left_hip, left_hip, left_shoulder, left_knee},
                            AngleAt{Measure::right_hip, right_hip, right_shoulder, right_knee},
                            AngleAt{Measure::left_knee, left_knee, left_hip, left_ankle},
                            AngleAt{Measure::right_knee, right_knee, right_hip, right_ankle}};

constexpr double seen_enough = 0.5;
/// Limbs that point at the phone show no angle: shorter than this in the picture, body heights.
constexpr double shortest_limb = 0.06;

Measured angle_of(const StillBody& body, const AngleAt& angle) {
    const auto &at = body[angle.at], &a = body[angle.a], &b = body[angle.b];
    if (std::min({at.seen, a.seen, b.seen}) < seen_enough) return {std::nullopt, "a joint is hidden"};
    if (std::min(body::distance(at, a), body::distance(at, b)) < shortest_limb * body.height_px)
        return {std::nullopt, "a limb points at the camera"};
    return {posing::angle_at(at, a, b), ""};
}

/// As the library's score of the program's own marks: weighted mean over 4, percent.
Measured score_of(const posing::Segment& hold, const rules::RuleSet* rules) {
    const auto* expected = rules != nullptr && hold.pose ? rules->find_pose(*hold.pose) : nullptr;
    if (expected == nullptr) return {std::nullopt, "no rule set with a checklist for this pose"};
    double sum = 0, total = 0;
    for (const auto& item : expected->items) {
        const auto limit = rules::limit_of(*expected, item);
        if (!item.measured || !limit) continue;
        std::optional<double> value;
        if (item.id == "hold_length") {
            value = hold.duration_s();
        } else {
            for (const auto& check : hold.checks)
                if (check.item == item.id) value = check.value.value;
        }
        if (!value) continue;
        sum += item.weight * rules::mark_for(*value, *limit);
        total += item.weight;
    }
    if (!(total > 0)) return {std::nullopt, "no checklist item of this pose was measured"};
    return {sum / total / 4 * 100, ""};
}

void put_hands(const posing::Segment& hold, const posing::Analysis& analysis, Lengths lengths, MeasuredHold& out) {
    const Measured absent{std::nullopt, "hands were not measured"};
    out[Measure::hand_height_difference] =
        hold.hands ? length_in(hold.hands->height_difference, analysis, lengths) : absent;
    out[Measure::hands_fidget_rms] = hold.hands ? length_in(hold.hands->fidget_rms, analysis, lengths) : absent;
    out[Measure::hands_settling] = hold.hands ? hold.hands->settling_s : absent;
}

void put_widths(const posing::Segment& hold, MeasuredHold& out) {
    const Measured absent{std::nullopt, "the outline was not measured"};
    out[Measure::shoulder_width] = hold.widths ? hold.widths->shoulders : absent;
    out[Measure::waist_width] = hold.widths ? hold.widths->waist : absent;
    out[Measure::hip_width] = hold.widths ? hold.widths->hips : absent;
    if (hold.widths) out.width_error_pct = hold.widths->error;
}

}  // namespace

std::string measure_id(Measure measure, Lengths lengths) {
    const Facts& f = facts_of(measure);
    if (f.kind != length) return std::string{f.id};
    return std::string{f.id} + (lengths == Lengths::cm ? "_cm" : "_pct");
}

std::string_view measure_title(Measure measure) {
    return facts_of(measure).title;
}

std::string_view measure_unit(Measure measure, Lengths lengths) {
    if (facts_of(measure).kind != length) return facts_of(measure).unit;
    return lengths == Lengths::cm ? "cm" : "%";
}

int measure_decimals(Measure measure) {
    return facts_of(measure).decimals;
}

std::string measure_words(Measure measure, Lengths lengths, double value, bool is_signed) {
    std::string words = fmt::format("{:.{}f}", value, measure_decimals(measure));
    if (words.find_first_not_of("-0.") == std::string::npos && words.front() == '-') words.erase(0, 1);
    if (is_signed && words.find_first_not_of("0.") != std::string::npos && words.front() != '-') words.insert(0, "+");
    const std::string_view unit = measure_unit(measure, lengths);
    if (unit == "body heights/s") return words;
    return words + (unit == "°" ? "" : " ") + std::string{unit};
}

bool is_silhouette(Measure measure) {
    return facts_of(measure).kind == silhouette;
}

bool is_angle(Measure measure) {
    return facts_of(measure).kind == angle;
}

MeasuredHold measure_hold(const posing::Segment& hold, const posing::Analysis& analysis, const StillBody* body,
                          const rules::RuleSet* rules, Lengths lengths) {
    MeasuredHold out;
    out[Measure::hold_s] = {hold.duration_s(), ""};
    out[Measure::stillness] = hold.stillness;
    out[Measure::sway_rms] = length_in(hold.sway.rms, analysis, lengths);
    out[Measure::twist_rms] = hold.twist.rms;
    out[Measure::score] = score_of(hold, rules);
    out[Measure::facing] = hold.facing_deg;
    put_hands(hold, analysis, lengths, out);
    put_widths(hold, out);
    for (const AngleAt& angle : angles)
        out[angle.measure] = body != nullptr ? angle_of(*body, angle) : Measured{std::nullopt, "no landmarks"};
    return out;
}

}  // namespace quarterturn::compare
