#include <cmath>
#include <nlohmann/json.hpp>

#include "true_widths.hpp"
#include "truth.hpp"

namespace quarterturn::sample {
namespace {

using Json = nlohmann::ordered_json;

/// Decimals enough for any use of the number, so that documents stay small and the same everywhere.
double rounded(double value, int decimals) {
    const double unit = std::pow(10.0, decimals);
    const double out = std::round(value * unit) / unit;
    return out == 0 ? 0 : out;
}

const char* word(TrueKind kind) {
    switch (kind) {
        case TrueKind::hold:
            return "hold";
        case TrueKind::transition:
            return "transition";
        case TrueKind::walk:
            return "walk";
        case TrueKind::pause:
            break;
    }
    return "pause";
}

Json planted(const Step& step) {
    Json out = Json::array();
    for (const Disturbance& d : step.disturb) {
        constexpr std::array<const char*, 8> names{"sway",   "twist",     "turn",        "lean",
                                                   "tremor", "drift_arm", "fidget_hand", "breath"};
        constexpr std::array<const char*, 8> units{"cm", "deg", "deg", "deg", "mm", "deg", "cm", "mm"};
        const auto kind = static_cast<std::size_t>(d.kind);
        Json item{{"kind", names[kind]}, {units[kind], d.size}};
        if (d.kind != Wobble::drift_arm) item["hz"] = d.hz;
        if (d.kind == Wobble::tremor || d.kind == Wobble::drift_arm || d.kind == Wobble::fidget_hand)
            item["arm"] = std::array<const char*, 3>{"left", "right", "both"}[static_cast<std::size_t>(d.arm)];
        out.push_back(item);
    }
    return out;
}

/// In the middle of a hold.
Json widths_json(const Timeline& timeline, const TrueSegment& s) {
    const TrueWidths widths = true_widths(timeline, (s.start_s + s.end_s) / 2);
    Json out = Json::object();
    if (widths.shoulders) out["shoulders"] = rounded(*widths.shoulders, 2);
    if (widths.waist) out["waist"] = rounded(*widths.waist, 2);
    if (widths.hips) out["hips"] = rounded(*widths.hips, 2);
    return out;
}

Json segment_json(const Timeline& timeline, const TrueSegment& s) {
    const Script& script = timeline.script();
    Json out{{"kind", word(s.kind)}};
    if (s.kind == TrueKind::hold) out["pose"] = s.pose;
    if (!s.side.empty()) out["side"] = s.side;
    out["start_s"] = rounded(s.start_s, 3);
    out["end_s"] = rounded(s.end_s, 3);
    out["duration_s"] = rounded(s.duration_s(), 3);
    if (s.kind == TrueKind::hold || s.kind == TrueKind::pause) {
        out["facing_deg"] = rounded(s.facing_deg, 1);
        out["twist_deg"] = Json{{"mean", rounded(s.twist_deg, 2)},
                                {"rms", rounded(s.twist_rms_deg, 2)},
                                {"range", rounded(s.twist_range_deg, 2)}};
        out["sway"] =
            Json{{"rms_cm", rounded(s.sway_rms_cm, 2)}, {"peak_to_peak_cm", rounded(s.sway_peak_to_peak_cm, 2)}};
        out["pelvis_yaw_range_deg"] = rounded(s.pelvis_yaw_range_deg, 2);
        if (s.script_step && !script.steps[*s.script_step].disturb.empty())
            out["planted"] = planted(script.steps[*s.script_step]);
        if (s.kind == TrueKind::hold)
            if (const Json widths = widths_json(timeline, s); !widths.empty()) out["widths_pct"] = widths;
        return out;
    }
    out["turn_deg"] = rounded(s.turn_deg, 1);
    out["steps"] = s.steps;
    if (s.kind == TrueKind::walk) out["stage"] = s.stage;
    return out;
}

Json picture_json(const TruePicture& p) {
    Json points = Json::array();
    for (const TruePoint& point : p.points)
        points.push_back({rounded(point.x_px, 2), rounded(point.y_px, 2), rounded(point.m.x, 4), rounded(point.m.y, 4),
                          rounded(point.m.z, 4), point.in_picture ? 1 : 0});
    return {{"pts", p.pts},
            {"t_s", rounded(p.t_s, 5)},
            {"pelvis_yaw_deg", rounded(p.pelvis_yaw_deg, 2)},
            {"shoulder_yaw_deg", rounded(p.shoulder_yaw_deg, 2)},
            {"pelvis_sideways_cm", rounded(p.pelvis_sideways_cm, 3)},
            {"points", points}};
}

}  // namespace

std::string write_truth(const Script& script, const Truth& truth, bool whole) {
    Json out{{"format", "quarterturn.truth"}, {"version", 1}, {"script", truth.name}};
    out["clip"] = Json{{"width", script.film.width},
                       {"height", script.film.height},
                       {"rotation_deg", script.film.rotation_deg},
                       {"mirrored", script.camera.mirrored},
                       {"time_base", {1, 90000}},
                       {"frames", truth.pictures.size()},
                       {"duration_s", rounded(truth.duration_s, 3)}};
    out["body"] = Json{{"height_cm", rounded(script.body.height_m * 100, 1)},
                       {"heels_cm", rounded(script.body.heels_m * 100, 1)}};
    const Timeline timeline(script);
    for (const TrueSegment& segment : truth.segments) out["segments"].push_back(segment_json(timeline, segment));
    if (!whole) {
        // one line per segment: easy to read and to compare
        Json lines = out["segments"];
        out.erase("segments");
        std::string text = out.dump(1);
        text.resize(text.size() - 2);
        text += ",\n \"segments\": [";
        for (std::size_t i = 0; i < lines.size(); ++i) text += (i == 0 ? "\n  " : ",\n  ") + lines[i].dump();
        return text + "\n ]\n}\n";
    }
    for (const FootStep& step : truth.foot_steps)
        out["foot_steps"].push_back({{"foot", step.foot == 0 ? "left" : "right"},
                                     {"lift_s", rounded(step.lift_s, 3)},
                                     {"land_s", rounded(step.land_s, 3)}});
    Json names = Json::array();
    for (const char* name : point_names()) names.push_back(name);
    out["point_names"] = names;
    for (const TruePicture& picture : truth.pictures) out["pictures"].push_back(picture_json(picture));
    return out.dump() + "\n";
}

}  // namespace quarterturn::sample
