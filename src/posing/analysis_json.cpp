#include "posing/analysis_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "posing/json_layout.hpp"

namespace quarterturn::posing {
namespace {

using Json = nlohmann::ordered_json;

// Steps per unit, so that rounding ends in a division: 12.27 is then the double nearest to 12.27 and prints as such.
constexpr double tenths = 10;
constexpr double hundredths = 100;
constexpr double thousandths = 1000;
constexpr double ten_thousandths = 10000;

double rounded(double value, double steps) {
    const double whole = std::round(value * steps);
    return whole == 0 ? 0 : whole / steps;  // never "-0.0"
}

/// In (-180, 180] also after rounding.
double rounded_angle(double degrees) {
    const double value = rounded(std::remainder(degrees, 360.0), tenths);
    return value == -180 ? 180 : value;
}

Json optional_number(const std::optional<double>& value, double steps) {
    if (!value || !std::isfinite(*value)) return nullptr;
    return rounded(*value, steps);
}

/// Collects one JSON object; every null that needs a reason gets it beside it.
class Fields {
  public:
    Json& operator[](const char* name) { return object_[name]; }

    void put(const std::string& name, const Measured& measured, double steps) {
        object_[name] = optional_number(measured.value, steps);
        if (object_[name].is_null()) explain(name, measured.reason);
    }
    void put_angle(const std::string& name, const Measured& measured) {
        put(name, measured, tenths);
        if (object_[name].is_number()) object_[name] = rounded_angle(object_[name].get<double>());
    }
    void explain(const std::string& name, const std::string& reason) {
        reasons_.emplace_back(name, reason.empty() ? "not measured" : to_utf8(reason));
    }
    [[nodiscard]] Json finish() {
        if (!reasons_.empty()) add_reasons();
        return std::move(object_);
    }

  private:
    void add_reasons() {
        const auto same = [&](const auto& entry) { return entry.second == reasons_.front().second; };
        if (std::all_of(reasons_.begin(), reasons_.end(), same)) {
            object_["reason"] = reasons_.front().second;
            return;
        }
        std::string sentence;
        Json each = Json::object();
        for (const auto& [name, reason] : reasons_) {
            sentence += fmt::format("{}{}: {}", sentence.empty() ? "" : "; ", name, reason);
            each[name] = reason;
        }
        object_["reason"] = sentence;
        object_["reasons"] = std::move(each);
    }

    Json object_ = Json::object();
    std::vector<std::pair<std::string, std::string>> reasons_;
};

const char* name_of(SegmentKind kind) {
    switch (kind) {
        case SegmentKind::hold:
            return "hold";
        case SegmentKind::transition:
            return "transition";
        case SegmentKind::walk:
            return "walk";
        case SegmentKind::pause:
            break;
    }
    return "pause";
}

Json clip_json(const ClipFacts& clip) {
    Fields out;
    out["file"] = to_utf8(clip.file);
    out["fingerprint"] = to_utf8(clip.fingerprint);
    out["duration_s"] = rounded(clip.duration_s, thousandths);
    out["frames"] = clip.frames;
    out["width"] = clip.width;
    out["height"] = clip.height;
    out["rotation_deg"] = clip.rotation_deg;
    out["time_base"] = {{"num", clip.time_base.num}, {"den", clip.time_base.den}};
    out["first_pts"] = clip.first_pts;
    out["time_scale"] = clip.time_scale;
    out["mirrored"] = clip.mirrored;
    out["warnings"] = Json::array();
    for (const std::string& warning : clip.warnings) out["warnings"].push_back(to_utf8(warning));
    return out.finish();
}

Json check_json(const Check& check) {
    Fields out;
    out["item"] = to_utf8(check.item);
    out.put("value", check.value, thousandths);
    out["unit"] = to_utf8(check.unit);
    out["limit"] = optional_number(check.limit, thousandths);
    out["met"] = check.met ? Json(*check.met) : Json(nullptr);
    out["published"] = check.published;
    out["confidence"] = rounded(check.confidence, hundredths);
    return out.finish();
}

Json checks_json(const std::vector<Check>& checks) {
    Json list = Json::array();
    for (const Check& check : checks) list.push_back(check_json(check));
    return list;
}

Json twist_json(const Twist& twist) {
    Fields out;
    out.put_angle("absolute", twist.absolute);
    out.put("range", twist.range, tenths);
    out.put("rms", twist.rms, tenths);
    if (twist.drift) out.put("drift", *twist.drift, tenths);
    if (twist.shoulders_differ) out.put("shoulders_differ_rms", *twist.shoulders_differ, tenths);
    return out.finish();
}

Json sway_json(const Sway& sway, bool in_cm) {
    const double steps = in_cm ? hundredths : thousandths;
    Fields out;
    out.put(in_cm ? "rms_cm" : "rms_pct", sway.rms, steps);
    out.put(in_cm ? "peak_to_peak_cm" : "peak_to_peak_pct", sway.peak_to_peak, steps);
    out.put("dominant_hz", sway.dominant_hz, hundredths);
    if (sway.path_speed) out.put(in_cm ? "path_speed_cm_s" : "path_speed_pct_s", *sway.path_speed, steps);
    if (sway.drift) out.put(in_cm ? "drift_cm" : "drift_pct", *sway.drift, steps);
    return out.finish();
}

void put_pose(Fields& out, const Segment& hold) {
    const bool known = hold.pose && hold.pose_source != PoseSource::none;
    out["pose"] = known ? Json(to_utf8(*hold.pose)) : Json(nullptr);
    out["pose_confidence"] = known ? rounded(hold.pose_confidence, hundredths) : 0.0;
    out["pose_source"] = !known ? Json(nullptr) : Json(hold.pose_source == PoseSource::body ? "body" : "order");
    if (!known) out.explain("pose", hold.pose_reason);
    if (hold.side) out["side"] = to_utf8(*hold.side);
}

Json hands_json(const Hands& hands, bool in_cm) {
    const std::string unit = in_cm ? "_cm" : "_pct";
    const double steps = in_cm ? hundredths : thousandths;
    Fields out;
    out.put("height_difference" + unit, hands.height_difference, steps);
    out.put("left_from_hip" + unit, hands.left_from_hip, steps);
    out.put("right_from_hip" + unit, hands.right_from_hip, steps);
    out.put("fidget_rms" + unit, hands.fidget_rms, steps);
    out.put("settling_s", hands.settling_s, thousandths);
    return out.finish();
}

Json widths_json(const Widths& widths) {
    Fields out;
    out.put("shoulders_pct", widths.shoulders, thousandths);
    out.put("waist_pct", widths.waist, thousandths);
    out.put("hips_pct", widths.hips, thousandths);
    out["error_pct"] = rounded(widths.error, thousandths);
    return out.finish();
}

void put_hold(Fields& out, const Segment& hold, bool in_cm) {
    put_pose(out, hold);
    out.put_angle("facing_deg", hold.facing_deg);
    out["twist_deg"] = twist_json(hold.twist);
    out["sway"] = sway_json(hold.sway, in_cm);
    out.put("stillness", hold.stillness, ten_thousandths);
    out["steadiest_pts"] = hold.steadiest_pts;
    out["checks"] = checks_json(hold.checks);
    if (hold.hands) out["hands"] = hands_json(*hold.hands, in_cm);
    if (hold.widths) out["widths"] = widths_json(*hold.widths);
}

void put_steps(Fields& out, const Segment& segment) {
    out["steps"] = segment.steps ? Json(*segment.steps) : Json(nullptr);
    if (!segment.steps) out.explain("steps", segment.steps_reason);
}

/// Angles of the document lie in (-180, 180]; a turn that goes further is told with the whole turns to add.
void put_turn(Fields& out, const Measured& turn) {
    out.put_angle("turn_deg", turn);
    if (!turn.value || !std::isfinite(*turn.value)) return;
    const double written = rounded_angle(rounded(*turn.value, tenths));
    const auto whole = static_cast<int>(std::lround((*turn.value - written) / 360));
    if (whole != 0) out["full_turns"] = whole;
}

Json trunk_json(const TrunkMovement& trunk, bool in_cm) {
    Fields out;
    out.put("twist_range_deg", trunk.twist_range, tenths);
    out.put(in_cm ? "sway_range_cm" : "sway_range_pct", trunk.sway_range, in_cm ? hundredths : thousandths);
    return out.finish();
}

void put_transition(Fields& out, const Segment& segment, bool in_cm) {
    put_turn(out, segment.turn_deg);
    put_steps(out, segment);
    if (segment.extra_steps) out["extra_steps"] = *segment.extra_steps;
    if (segment.smoothness) out.put("smoothness", *segment.smoothness, thousandths);
    if (segment.trunk) out["trunk"] = trunk_json(*segment.trunk, in_cm);
    if (!segment.checks.empty()) out["checks"] = checks_json(segment.checks);
}

void put_walk(Fields& out, const Segment& segment, bool in_cm) {
    put_steps(out, segment);
    out.put("cadence_per_min", segment.cadence_per_min, tenths);
    if (segment.stage) out["stage"] = *segment.stage;
    if (segment.step_evenness) out.put("step_evenness_pct", *segment.step_evenness, tenths);
    if (segment.path) out.put(in_cm ? "path_m" : "path_heights", *segment.path, hundredths);
}

Json segment_json(const Segment& segment, bool in_cm) {
    Fields out;
    const double start = rounded(segment.start_s, thousandths);
    const double end = rounded(segment.end_s, thousandths);
    out["kind"] = name_of(segment.kind);
    out["start_s"] = start;
    out["end_s"] = end;
    out["duration_s"] = rounded(end - start, thousandths);  // of the rounded bounds, so that the three agree
    out["start_pts"] = segment.start_pts;
    out["end_pts"] = segment.end_pts;
    out["confidence"] = rounded(segment.confidence, hundredths);
    switch (segment.kind) {
        case SegmentKind::hold:
            put_hold(out, segment, in_cm);
            break;
        case SegmentKind::transition:
            put_transition(out, segment, in_cm);
            break;
        case SegmentKind::walk:
            put_walk(out, segment, in_cm);
            break;
        case SegmentKind::pause:
            break;
    }
    return out.finish();
}

Json stage_walk_json(const StageWalk& walk) {
    Json out = Json::object();
    const double start = rounded(walk.start_s, thousandths);
    const double end = rounded(walk.end_s, thousandths);
    out["start_s"] = start;
    out["end_s"] = end;
    out["duration_s"] = rounded(end - start, thousandths);
    out["limit_s"] = optional_number(walk.limit_s, tenths);
    out["stop_limit_s"] = optional_number(walk.stop_limit_s, tenths);
    out["stops"] = Json::array();
    for (const StageWalk::Stop& stop : walk.stops) {
        const double from = rounded(stop.start_s, thousandths);
        const double to = rounded(stop.end_s, thousandths);
        out["stops"].push_back({{"start_s", from}, {"end_s", to}, {"duration_s", rounded(to - from, thousandths)}});
    }
    return out;
}

Json quarter_turns_json(const Measured& evenness) {
    Fields out;
    out.put("evenness_pct", evenness, tenths);
    return out.finish();
}

Json curve_json(const std::vector<std::optional<double>>& curve, std::size_t length, double steps, bool angle) {
    Json list = Json::array();
    for (std::size_t i = 0; i < length; ++i) {
        Json value = i < curve.size() ? optional_number(curve[i], steps) : Json(nullptr);
        if (angle && value.is_number()) value = rounded_angle(value.get<double>());
        list.push_back(std::move(value));
    }
    return list;
}

Json signals_json(const Signals& signals, bool in_cm) {
    Json out = Json::object();
    const std::size_t length = signals.t_s.size();
    out["t_s"] = Json::array();
    for (const double t : signals.t_s) out["t_s"].push_back(rounded(t, thousandths));
    out["stillness"] = curve_json(signals.stillness, length, ten_thousandths, false);
    out["facing_deg"] = curve_json(signals.facing_deg, length, tenths, true);
    out["twist_deg"] = curve_json(signals.twist_deg, length, tenths, true);
    out[in_cm ? "sway_cm" : "sway_pct"] = curve_json(signals.sway_cm, length, in_cm ? hundredths : thousandths, false);
    return out;
}

}  // namespace

std::string write_analysis(const Analysis& analysis, bool with_signals) {
    const bool in_cm = analysis.height_cm.has_value();
    Json out = Json::object();
    out["format"] = "quarterturn.analysis";
    out["version"] = 1;
    out["clip"] = clip_json(analysis.clip);
    out["method"] = analysis.method == Method::landmarks ? "landmarks" : "motion";
    out["rule_set"] = analysis.rule_set ? Json(to_utf8(*analysis.rule_set)) : Json(nullptr);
    out["height_cm"] = optional_number(analysis.height_cm, tenths);
    out["segments"] = Json::array();
    for (const Segment& segment : analysis.segments) out["segments"].push_back(segment_json(segment, in_cm));
    if (analysis.stage_walk) out["stage_walk"] = stage_walk_json(*analysis.stage_walk);
    if (analysis.turn_evenness) out["quarter_turns"] = quarter_turns_json(*analysis.turn_evenness);
    if (analysis.mirrored_suggested) out["mirrored_suggested"] = *analysis.mirrored_suggested;
    if (with_signals) out["signals"] = signals_json(analysis.signals, in_cm);
    return lay_out(out);
}

}  // namespace quarterturn::posing
