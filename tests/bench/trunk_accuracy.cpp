#include "trunk_accuracy.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "bench_films.hpp"

namespace quarterturn::bench {
namespace {

using posing::Segment;
using sample::TruePicture;
using sample::TrueSegment;

const Segment* found_for(const posing::Analysis& analysis, const TrueSegment& truth) {
    const Segment* best = nullptr;
    double most = 0.5 * truth.duration_s();
    for (const Segment& s : analysis.segments) {
        const double shared = std::min(s.end_s, truth.end_s) - std::max(s.start_s, truth.start_s);
        if (s.kind != posing::SegmentKind::hold || shared <= most) continue;
        most = shared;
        best = &s;
    }
    return best;
}

View view_of(double facing_deg) {
    const double away = std::abs(std::remainder(facing_deg, 360));
    if (away < 50) return View::front;
    return away > 130 ? View::back : View::side;
}

/// True value at a time, between the pictures.
template <class Get>
double true_at(const sample::Truth& truth, double t_s, Get get) {
    const auto& all = truth.pictures;
    const auto later =
        std::lower_bound(all.begin(), all.end(), t_s, [](const TruePicture& p, double t) { return p.t_s < t; });
    if (later == all.begin()) return get(all.front());
    if (later == all.end()) return get(all.back());
    const TruePicture& before = *(later - 1);
    const double share = (t_s - before.t_s) / (later->t_s - before.t_s);
    return get(before) + share * (get(*later) - get(before));
}

/// RMS of found less true about their means, over the samples of the found stretch.
template <class Get>
std::optional<double> curve_error(const posing::Analysis& analysis, const std::vector<std::optional<double>>& curve,
                                  const Segment& hold, const sample::Truth& truth, Get get) {
    std::vector<double> differences;
    for (std::size_t i = 0; i < curve.size(); ++i) {
        const double t = analysis.signals.t_s[i];
        if (t < hold.start_s || t > hold.end_s || !curve[i]) continue;
        differences.push_back(*curve[i] - true_at(truth, t, get));
    }
    if (differences.size() < 3) return std::nullopt;
    double mean = 0, squares = 0;
    for (const double d : differences) mean += d / static_cast<double>(differences.size());
    for (const double d : differences) squares += (d - mean) * (d - mean);
    return std::sqrt(squares / static_cast<double>(differences.size()));
}

bool planted(const sample::Script& script, const TrueSegment& truth, sample::Wobble kind) {
    if (!truth.script_step) return false;
    const auto& all = script.steps[*truth.script_step].disturb;
    return std::any_of(all.begin(), all.end(), [&](const auto& d) { return d.kind == kind; });
}

std::string shown(const Compared& c) {
    if (!c.found_rms) return fmt::format("true {:4.2f} found   -  ({})", c.true_rms, c.reason);
    return fmt::format("true {:4.2f} found {:4.2f} curve error {}", c.true_rms, *c.found_rms,
                       c.curve_error ? fmt::format("{:4.2f}", *c.curve_error) : "-");
}

struct Tally {
    int all = 0, measured = 0, within = 0;
    std::vector<double> errors, curves, shares;

    /// Within `absolute` or `share` of the truth: the limit each number has to hold.
    void add(const Compared& c, double absolute, double share) {
        ++all;
        if (!c.found_rms) return;
        ++measured;
        const double error = std::abs(*c.found_rms - c.true_rms);
        within += error <= std::max(absolute, share * c.true_rms) ? 1 : 0;
        errors.push_back(error);
        if (c.curve_error) curves.push_back(*c.curve_error);
        if (c.true_rms > 0) shares.push_back(*c.found_rms / c.true_rms);
    }
    [[nodiscard]] std::string told() const {
        if (measured == 0) return fmt::format("measured 0 of {}", all);
        return fmt::format(
            "measured {} of {}, within the limit {}; error median {:.2f} worst {:.2f}; curve error median {:.2f} worst "
            "{:.2f}; found / true median {:.2f} from {:.2f} to {:.2f}",
            measured, all, within, median(errors), *std::max_element(errors.begin(), errors.end()), median(curves),
            curves.empty() ? 0 : *std::max_element(curves.begin(), curves.end()), median(shares),
            shares.empty() ? 0 : *std::min_element(shares.begin(), shares.end()),
            shares.empty() ? 0 : *std::max_element(shares.begin(), shares.end()));
    }
};

}  // namespace

const char* word(View view) {
    switch (view) {
        case View::front:
            return "front";
        case View::back:
            return "back";
        case View::side:
            break;
    }
    return "side";
}

std::vector<HoldTrunk> trunk_of(const posing::Analysis& analysis, const sample::Script& script,
                                const sample::Truth& truth) {
    std::vector<HoldTrunk> out;
    for (const TrueSegment& segment : truth.segments) {
        if (segment.kind != sample::TrueKind::hold) continue;
        const Segment* found = found_for(analysis, segment);
        if (found == nullptr) continue;
        HoldTrunk hold;
        hold.pose = segment.pose;
        hold.start_s = segment.start_s;
        hold.view = view_of(segment.facing_deg);
        hold.twist_planted = planted(script, segment, sample::Wobble::twist);
        hold.turn_planted = planted(script, segment, sample::Wobble::turn);
        hold.sway_planted = planted(script, segment, sample::Wobble::sway);
        hold.twist = {segment.twist_rms_deg, found->twist.rms.value, {}, found->twist.rms.reason};
        hold.twist.curve_error =
            curve_error(analysis, analysis.signals.twist_deg, *found, truth,
                        [](const TruePicture& p) { return p.shoulder_yaw_deg - p.pelvis_yaw_deg; });
        hold.sway = {segment.sway_rms_cm, found->sway.rms.value, {}, found->sway.rms.reason};
        hold.sway.curve_error = curve_error(analysis, analysis.signals.sway_cm, *found, truth,
                                            [](const TruePicture& p) { return p.pelvis_sideways_cm; });
        hold.twist_absolute = found->twist.absolute.value;
        hold.true_twist_absolute = segment.twist_deg;
        hold.widths = found->widths;
        out.push_back(hold);
    }
    return out;
}

void print_holds(const std::vector<HoldTrunk>& holds) {
    const auto shown_width = [](const posing::Measured& m) { return m.value ? fmt::format("{:.2f}", *m.value) : "-"; };
    for (const HoldTrunk& h : holds) {
        const std::string plants =
            fmt::format("{}{}{}", h.twist_planted ? "T" : "", h.turn_planted ? "B" : "", h.sway_planted ? "S" : "");
        fmt::print("    {:6.2f} {:22} {:5} {:2} twist {} | sway {}", h.start_s, h.pose, word(h.view), plants,
                   shown(h.twist), shown(h.sway));
        if (h.twist_absolute)
            fmt::print(" | absolute twist true {:.1f} found {:.1f}", h.true_twist_absolute, *h.twist_absolute);
        if (h.widths)
            fmt::print(" | widths {} {} {} error {:.2f}", shown_width(h.widths->shoulders),
                       shown_width(h.widths->waist), shown_width(h.widths->hips), h.widths->error);
        fmt::print("\n");
    }
}

void print_trunk_summary(const std::vector<HoldTrunk>& holds) {
    constexpr double quiet_deg = 0.5;
    fmt::print("twist RMS, degrees (limit 1.5 or 25 %); planted holds by view:\n");
    for (const View view : {View::front, View::back, View::side}) {
        Tally tally;
        for (const HoldTrunk& h : holds)
            if (h.view == view && h.twist_planted) tally.add(h.twist, 1.5, 0.25);
        fmt::print("  {:6} {}\n", word(view), tally.told());
    }
    for (const bool turns : {false, true}) {
        std::vector<double> invented;
        int all = 0;
        for (const HoldTrunk& h : holds) {
            if (h.twist_planted || h.turn_planted != turns || h.twist.true_rms > quiet_deg) continue;
            ++all;
            if (h.twist.found_rms) invented.push_back(*h.twist.found_rms);
        }
        if (all == 0) continue;
        fmt::print("  invented where {}: measured {} of {}, median {:.2f}, worst {:.2f}, over 2 degrees {}\n",
                   turns ? "the whole trunk turns" : "there is none", invented.size(), all, median(invented),
                   invented.empty() ? 0 : *std::max_element(invented.begin(), invented.end()),
                   std::count_if(invented.begin(), invented.end(), [](double v) { return v > 2; }));
    }
    fmt::print("sway RMS, cm (limit 0.3 or 15 %):\n");
    for (const bool planted : {true, false}) {
        Tally tally;
        for (const HoldTrunk& h : holds)
            if (h.sway_planted == planted) tally.add(h.sway, 0.3, 0.15);
        fmt::print("  {:7} {}\n", planted ? "planted" : "quiet", tally.told());
    }
    std::map<std::string, int> reasons;
    for (const HoldTrunk& h : holds) {
        if (!h.twist.found_rms) ++reasons[std::string(word(h.view)) + ", twist: " + h.twist.reason];
        if (!h.sway.found_rms) ++reasons[std::string(word(h.view)) + ", sway: " + h.sway.reason];
    }
    for (const auto& [reason, count] : reasons) fmt::print("  absent {} times: {}\n", count, reason);
}

}  // namespace quarterturn::bench
