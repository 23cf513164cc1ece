#include "compare/comparison_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "base/text.hpp"
#include "posing/json_layout.hpp"

namespace quarterturn::compare {
namespace {

using Json = nlohmann::ordered_json;

double rounded(double value, double steps = 1000) {
    const double whole = std::round(value * steps);
    return whole == 0 ? 0 : whole / steps;  // never "-0.0"
}

Json number(const std::optional<double>& value) {
    return value && std::isfinite(*value) ? Json(rounded(*value)) : Json(nullptr);
}

Json film_json(const Take& take) {
    return {{"file", to_utf8(take.analysis->clip.file)}, {"fingerprint", take.analysis->clip.fingerprint}};
}

/// One film, or a session's first with all of them in `clips`.
Json side_json(const Takes& takes) {
    Json out = film_json(takes.front());
    if (takes.size() < 2) return out;
    out["clips"] = Json::array();
    for (const Take& take : takes) out["clips"].push_back(film_json(take));
    return out;
}

Json hold_json(const Takes& takes, const HoldPlace& place, std::int64_t still_pts, double still_s) {
    const posing::Segment& hold = hold_at(takes, place);
    Json out;
    if (takes.size() > 1) out = film_json(takes[place.take]);
    out["start_s"] = rounded(hold.start_s);
    out["end_s"] = rounded(hold.end_s);
    out["still_s"] = rounded(still_s);
    out["still_pts"] = still_pts;
    return out;
}

const char* joint_name(body::Joint joint) {
    switch (joint) {
        case body::Joint::left_hip:
            return "left_hip";
        case body::Joint::right_hip:
            return "right_hip";
        case body::Joint::left_shoulder:
            return "left_shoulder";
        case body::Joint::right_shoulder:
            return "right_shoulder";
        case body::Joint::left_ankle:
            return "left_ankle";
        default:
            return "right_ankle";
    }
}

Json alignment_json(const Alignment& alignment) {
    const Similarity& t = alignment.before_to_now;
    Json out{{"scale", rounded(t.scale, 10000)},
             {"rotation_deg", rounded(t.turn_rad * 180 / std::numbers::pi)},
             {"mirrored", t.mirrored},
             {"residual_body_pct", rounded(alignment.residual_body_pct)},
             {"perspective_body_pct", rounded(alignment.perspective_body_pct)},
             {"matrix", Json::array()}};
    for (const double m : t.matrix()) out["matrix"].push_back(rounded(m, 1e6));
    if (alignment.left_out) out["left_out"] = joint_name(*alignment.left_out);
    return out;
}

const char* source_name(ErrorSource source) {
    switch (source) {
        case ErrorSource::repeats:
            return "repeats";
        case ErrorSource::method:
            return "method";
        case ErrorSource::none:
            break;
    }
    return nullptr;
}

Json difference_json(const Difference& d, Lengths lengths) {
    Json out{{"measure", measure_id(d.measure, lengths)},
             {"now", number(d.now.value)},
             {"before", number(d.before.value)},
             {"difference", number(d.difference)},
             {"error", number(d.error)}};
    const char* source = source_name(d.source);
    out["error_source"] = source != nullptr ? Json(source) : Json(nullptr);
    const auto beyond = d.beyond_error();
    out["beyond_error"] = beyond ? Json(*beyond) : Json(nullptr);
    if (d.difference && !d.error)
        out["reason"] = "neither repeat holds nor the method say how large the error is";
    else if (!d.difference)
        out["reason"] = to_utf8(!d.now.value && !d.now.reason.empty()         ? "now: " + d.now.reason
                                : !d.before.value && !d.before.reason.empty() ? "before: " + d.before.reason
                                                                              : std::string{"not measured"});
    return out;
}

Json pair_json(const Comparison& comparison, const PairComparison& made) {
    const Pair& pair = made.pair;
    Json out;
    out["pose"] = pair.pose.empty() ? Json(nullptr) : Json(pair.pose);
    out["by_person"] = pair.by_person;
    out["now"] = hold_json(comparison.now, pair.now, pair.now_still_pts, pair.now_still_s);
    out["before"] = hold_json(comparison.before, pair.before, pair.before_still_pts, pair.before_still_s);
    out["alignment"] = made.alignment ? alignment_json(*made.alignment) : Json(nullptr);
    if (!made.alignment) out["reason"] = "alignment: " + made.alignment_reason;
    out["differences"] = Json::array();
    for (const Difference& d : made.differences) out["differences"].push_back(difference_json(d, comparison.lengths));
    return out;
}

Json unpaired_json(const Comparison& comparison, const Unpaired& unpaired) {
    const Takes& takes = unpaired.is_now ? comparison.now : comparison.before;
    Json out{{"clip", unpaired.is_now ? "now" : "before"},
             {"pose", unpaired.pose ? Json(*unpaired.pose) : Json(nullptr)},
             {"start_s", rounded(hold_at(takes, unpaired.place).start_s)}};
    if (takes.size() > 1) out["file"] = to_utf8(takes[unpaired.place.take].analysis->clip.file);
    return out;
}

Json mirror_json(const MirrorOffer& offer) {
    if (offer.film == MirrorHint::none) return nullptr;
    return {{"clip", offer.film == MirrorHint::now ? "now" : "before"}, {"reason", offer.reason}};
}

}  // namespace

std::string write_comparison(const Comparison& comparison, const rules::RuleSet* rules) {
    Json document{{"format", "quarterturn.comparison"},
                  {"version", 1},
                  {"now", side_json(comparison.now)},
                  {"before", side_json(comparison.before)},
                  {"mirrored_suggested", mirror_json(comparison.mirror)},
                  {"summary", summary_of(comparison, rules)},
                  {"warnings", comparison.warnings},
                  {"pairs", Json::array()},
                  {"unpaired", Json::array()}};
    for (const PairComparison& pair : comparison.pairs) document["pairs"].push_back(pair_json(comparison, pair));
    for (const Unpaired& unpaired : comparison.unpaired)
        document["unpaired"].push_back(unpaired_json(comparison, unpaired));
    return posing::lay_out(document);
}

}  // namespace quarterturn::compare
