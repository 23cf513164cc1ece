#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "posing/analysis_json.hpp"

namespace quarterturn::posing {
namespace {

using Json = nlohmann::json;

/// One JSON object being read. The first thing wrong in the whole document is kept; after that reading goes on with
/// empty values, so that the code below stays a plain list of fields.
class Node {
  public:
    Node(const Json& object, std::string place, std::string& problem)
        : object_(object), place_(std::move(place)), problem_(problem) {
        if (!object_.is_object()) complain("must be an object");
    }

    [[nodiscard]] bool has(const char* name) const { return object_.is_object() && object_.contains(name); }

    [[nodiscard]] const Json& at(const char* name) const {
        static const Json nothing;
        if (has(name)) return object_.at(name);
        complain(name, "is missing");
        return nothing;
    }
    [[nodiscard]] Node object(const char* name) const { return {at(name), place_ + "." + name, problem_}; }

    [[nodiscard]] double number(const char* name) const {
        const Json& value = at(name);
        if (value.is_number()) return value.get<double>();
        complain(name, "must be a number");
        return 0;
    }
    [[nodiscard]] std::int64_t integer(const char* name) const {
        const Json& value = at(name);
        const bool too_large = value.is_number_unsigned() && value.get<std::uint64_t>() > INT64_MAX;
        if (value.is_number_integer() && !too_large) return value.get<std::int64_t>();
        complain(name, "must be a whole number");
        return 0;
    }
    [[nodiscard]] int small_integer(const char* name) const {
        const std::int64_t value = integer(name);
        if (value >= INT32_MIN && value <= INT32_MAX) return static_cast<int>(value);
        complain(name, "is too large");
        return 0;
    }
    [[nodiscard]] bool flag(const char* name) const {
        const Json& value = at(name);
        if (value.is_boolean()) return value.get<bool>();
        complain(name, "must be true or false");
        return false;
    }
    [[nodiscard]] std::string text(const char* name) const {
        const Json& value = at(name);
        if (value.is_string()) return value.get<std::string>();
        complain(name, "must be text");
        return {};
    }
    [[nodiscard]] bool is_null(const char* name) const { return at(name).is_null(); }
    [[nodiscard]] std::optional<double> optional_number(const char* name) const {
        if (is_null(name)) return std::nullopt;
        return number(name);
    }
    [[nodiscard]] Measured measured(const char* name) const {
        if (is_null(name)) return {std::nullopt, reason_for(name)};
        return {number(name), {}};
    }
    [[nodiscard]] std::string reason_for(const char* name) const {
        if (has("reasons")) {
            const Node reasons = object("reasons");
            if (reasons.has(name)) return reasons.text(name);
        }
        return text("reason");
    }
    /// Calls `read(node)` for each object in the list.
    template <class Read>
    void each(const char* name, Read read) const {
        const Json& list = at(name);
        if (!list.is_array()) return complain(name, "must be a list");
        for (std::size_t i = 0; i < list.size(); ++i)
            read(Node(list[i], fmt::format("{}.{}[{}]", place_, name, i), problem_));
    }
    void complain(const char* name, const char* what) const { complain(fmt::format("{} {}", name, what).c_str()); }

  private:
    void complain(const char* what) const {
        if (problem_.empty()) problem_ = fmt::format("{}: {}", place_, what);
    }

    const Json& object_;
    std::string place_;
    std::string& problem_;
};

template <class Value>
struct Word {
    const char* text;
    Value value;
};

template <class Value, std::size_t Count>
Value one_of(const Node& node, const char* name, const Word<Value> (&words)[Count]) {
    const std::string text = node.text(name);
    for (const Word<Value>& word : words)
        if (text == word.text) return word.value;
    node.complain(name, "is not a known word");
    return words[0].value;
}

ClipFacts read_clip(const Node& node) {
    ClipFacts clip;
    clip.file = node.text("file");
    clip.fingerprint = node.text("fingerprint");
    clip.duration_s = node.number("duration_s");
    clip.frames = node.integer("frames");
    clip.width = node.small_integer("width");
    clip.height = node.small_integer("height");
    clip.rotation_deg = node.small_integer("rotation_deg");
    const Node base = node.object("time_base");
    clip.time_base = {base.integer("num"), base.integer("den")};
    if (clip.time_base.num <= 0 || clip.time_base.den <= 0) node.complain("time_base", "must be positive");
    clip.first_pts = node.integer("first_pts");
    clip.time_scale = node.number("time_scale");
    if (!(clip.time_scale > 0)) node.complain("time_scale", "must be positive");
    clip.mirrored = node.flag("mirrored");
    const Json& warnings = node.at("warnings");
    if (!warnings.is_array()) node.complain("warnings", "must be a list");
    for (const Json& warning : warnings) {
        if (warning.is_string())
            clip.warnings.push_back(warning.get<std::string>());
        else
            node.complain("warnings", "must hold texts");
    }
    return clip;
}

Check read_check(const Node& node) {
    Check check;
    check.item = node.text("item");
    check.value = node.measured("value");
    check.unit = node.text("unit");
    check.limit = node.optional_number("limit");
    if (!node.is_null("met")) check.met = node.flag("met");
    check.published = node.flag("published");
    check.confidence = node.number("confidence");
    return check;
}

void read_pose(const Node& node, Segment& hold) {
    if (node.is_null("pose")) {
        hold.pose_reason = node.reason_for("pose");
        return;
    }
    hold.pose = node.text("pose");
    hold.pose_confidence = node.number("pose_confidence");
    hold.pose_source =
        one_of<PoseSource>(node, "pose_source", {{"body", PoseSource::body}, {"order", PoseSource::order}});
}

Hands read_hands(const Node& node, bool in_cm) {
    const std::string unit = in_cm ? "_cm" : "_pct";
    const auto length = [&](const char* name) { return node.measured((name + unit).c_str()); };
    return {length("height_difference"), length("left_from_hip"), length("right_from_hip"), node.measured("settling_s"),
            length("fidget_rms")};
}

Widths read_widths(const Node& node) {
    return {node.measured("shoulders_pct"), node.measured("waist_pct"), node.measured("hips_pct"),
            node.number("error_pct")};
}

void read_hold(const Node& node, Segment& hold, bool in_cm) {
    read_pose(node, hold);
    if (node.has("side")) hold.side = node.text("side");
    hold.facing_deg = node.measured("facing_deg");
    const Node twist = node.object("twist_deg");
    hold.twist = {twist.measured("absolute"), twist.measured("range"), twist.measured("rms")};
    if (twist.has("drift")) hold.twist.drift = twist.measured("drift");
    if (twist.has("shoulders_differ_rms")) hold.twist.shoulders_differ = twist.measured("shoulders_differ_rms");
    const Node sway = node.object("sway");
    hold.sway = {sway.measured(in_cm ? "rms_cm" : "rms_pct"),
                 sway.measured(in_cm ? "peak_to_peak_cm" : "peak_to_peak_pct"), sway.measured("dominant_hz")};
    const char* speed = in_cm ? "path_speed_cm_s" : "path_speed_pct_s";
    const char* drift = in_cm ? "drift_cm" : "drift_pct";
    if (sway.has(speed)) hold.sway.path_speed = sway.measured(speed);
    if (sway.has(drift)) hold.sway.drift = sway.measured(drift);
    hold.stillness = node.measured("stillness");
    hold.steadiest_pts = node.integer("steadiest_pts");
    node.each("checks", [&](const Node& check) { hold.checks.push_back(read_check(check)); });
    if (node.has("hands")) hold.hands = read_hands(node.object("hands"), in_cm);
    if (node.has("widths")) hold.widths = read_widths(node.object("widths"));
}

void read_steps(const Node& node, Segment& segment) {
    if (node.is_null("steps"))
        segment.steps_reason = node.reason_for("steps");
    else
        segment.steps = node.small_integer("steps");
}

TrunkMovement read_trunk(const Node& node, bool in_cm) {
    return {node.measured("twist_range_deg"), node.measured(in_cm ? "sway_range_cm" : "sway_range_pct")};
}

void read_transition(const Node& node, Segment& segment, bool in_cm) {
    segment.turn_deg = node.measured("turn_deg");
    if (node.has("full_turns") && segment.turn_deg.value)
        *segment.turn_deg.value += 360.0 * node.small_integer("full_turns");
    read_steps(node, segment);
    if (node.has("extra_steps")) segment.extra_steps = node.small_integer("extra_steps");
    if (node.has("smoothness")) segment.smoothness = node.measured("smoothness");
    if (node.has("trunk")) segment.trunk = read_trunk(node.object("trunk"), in_cm);
    if (node.has("checks"))
        node.each("checks", [&](const Node& check) { segment.checks.push_back(read_check(check)); });
}

void read_walk(const Node& node, Segment& segment, bool in_cm) {
    read_steps(node, segment);
    segment.cadence_per_min = node.measured("cadence_per_min");
    const char* path = in_cm ? "path_m" : "path_heights";
    if (node.has("stage")) segment.stage = node.flag("stage");
    if (node.has("step_evenness_pct")) segment.step_evenness = node.measured("step_evenness_pct");
    if (node.has(path)) segment.path = node.measured(path);
}

Segment read_segment(const Node& node, bool in_cm) {
    Segment segment;
    segment.kind = one_of<SegmentKind>(node, "kind",
                                       {{"hold", SegmentKind::hold},
                                        {"transition", SegmentKind::transition},
                                        {"walk", SegmentKind::walk},
                                        {"pause", SegmentKind::pause}});
    segment.start_s = node.number("start_s");
    segment.end_s = node.number("end_s");
    segment.start_pts = node.integer("start_pts");
    segment.end_pts = node.integer("end_pts");
    segment.confidence = node.number("confidence");
    if (segment.kind == SegmentKind::hold) read_hold(node, segment, in_cm);
    if (segment.kind == SegmentKind::transition) read_transition(node, segment, in_cm);
    if (segment.kind == SegmentKind::walk) read_walk(node, segment, in_cm);
    return segment;
}

StageWalk read_stage_walk(const Node& node) {
    StageWalk walk;
    walk.start_s = node.number("start_s");
    walk.end_s = node.number("end_s");
    walk.limit_s = node.optional_number("limit_s");
    walk.stop_limit_s = node.optional_number("stop_limit_s");
    node.each("stops", [&](const Node& stop) { walk.stops.push_back({stop.number("start_s"), stop.number("end_s")}); });
    return walk;
}

std::vector<std::optional<double>> read_curve(const Node& node, const char* name, std::size_t length) {
    std::vector<std::optional<double>> curve;
    const Json& list = node.at(name);
    if (!list.is_array() || list.size() != length) {
        node.complain(name, "must be a list as long as t_s");
        return curve;
    }
    for (const Json& entry : list) {
        if (!entry.is_null() && !entry.is_number()) node.complain(name, "must hold numbers");
        curve.push_back(entry.is_number() ? std::optional(entry.get<double>()) : std::nullopt);
    }
    return curve;
}

Signals read_signals(const Node& node, bool in_cm) {
    Signals signals;
    const Json& times = node.at("t_s");
    if (!times.is_array()) node.complain("t_s", "must be a list");
    for (const Json& time : times) {
        if (!time.is_number()) node.complain("t_s", "must hold numbers");
        signals.t_s.push_back(time.is_number() ? time.get<double>() : 0);
    }
    signals.stillness = read_curve(node, "stillness", times.size());
    signals.facing_deg = read_curve(node, "facing_deg", times.size());
    signals.twist_deg = read_curve(node, "twist_deg", times.size());
    signals.sway_cm = read_curve(node, in_cm ? "sway_cm" : "sway_pct", times.size());
    return signals;
}

void check_order(const Analysis& analysis, std::string& problem) {
    for (std::size_t i = 0; i < analysis.segments.size() && problem.empty(); ++i) {
        const Segment& segment = analysis.segments[i];
        if (segment.end_s < segment.start_s || segment.end_pts < segment.start_pts)
            problem = fmt::format("analysis.segments[{}]: ends before it starts", i);
        else if (i > 0 && segment.start_s < analysis.segments[i - 1].end_s)
            problem = fmt::format("analysis.segments[{}]: starts before the one before it ends", i);
    }
}

Analysis read_document(const Node& node, std::string& problem) {
    Analysis analysis;
    analysis.clip = read_clip(node.object("clip"));
    analysis.method = one_of<Method>(node, "method", {{"motion", Method::motion}, {"landmarks", Method::landmarks}});
    if (!node.is_null("rule_set")) analysis.rule_set = node.text("rule_set");
    analysis.height_cm = node.optional_number("height_cm");
    const bool in_cm = analysis.height_cm.has_value();
    node.each("segments", [&](const Node& segment) { analysis.segments.push_back(read_segment(segment, in_cm)); });
    if (node.has("stage_walk")) analysis.stage_walk = read_stage_walk(node.object("stage_walk"));
    if (node.has("quarter_turns")) analysis.turn_evenness = node.object("quarter_turns").measured("evenness_pct");
    if (node.has("mirrored_suggested")) analysis.mirrored_suggested = node.flag("mirrored_suggested");
    if (node.has("signals")) analysis.signals = read_signals(node.object("signals"), in_cm);
    if (problem.empty()) check_order(analysis, problem);
    return analysis;
}

}  // namespace

Result<Analysis> read_analysis(std::string_view text) {
    const Json document = Json::parse(text, nullptr, false);
    if (document.is_discarded() || !document.is_object() || document.value("format", Json()) != "quarterturn.analysis")
        return Error{ErrorCode::bad_input, "This is not an analysis document; run analyze again to make one."};
    std::string problem;
    const Node node(document, "analysis", problem);
    const std::int64_t version = node.integer("version");
    if (problem.empty() && version > 1)
        return Error{
            ErrorCode::newer_version,
            fmt::format("This analysis was written by a newer program (version {}); update this one.", version)};
    if (version < 1) node.complain("version", "must be 1 or more");
    Analysis analysis = read_document(node, problem);
    if (!problem.empty())
        return Error{ErrorCode::bad_input,
                     fmt::format("This analysis document is damaged ({}); run analyze again.", problem)};
    return analysis;
}

}  // namespace quarterturn::posing
