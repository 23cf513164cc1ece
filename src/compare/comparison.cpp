#include "compare/comparison.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "rules/pose.hpp"

namespace quarterturn::compare {
namespace {

bool all_know_height(const Takes& takes) {
    return std::all_of(takes.begin(), takes.end(), [](const Take& take) { return take.analysis->height_cm; });
}

const rules::RuleSet* rules_in(const ComparisonSettings& settings) {
    return settings.rules ? &*settings.rules : nullptr;
}

Scatters scatter_in(const Takes& takes, const ComparisonSettings& settings, Lengths lengths) {
    std::vector<std::pair<std::string, MeasuredHold>> holds;
    for (const Take& take : takes) {
        for (const posing::Segment& segment : take.analysis->segments) {
            if (segment.kind != posing::SegmentKind::hold || !segment.pose) continue;
            const auto body = still_body(take, seconds_of(take.analysis->clip, segment.steadiest_pts));
            holds.emplace_back(
                *segment.pose + " " + segment.side.value_or(""),
                measure_hold(segment, *take.analysis, body ? &*body : nullptr, rules_in(settings), lengths));
        }
    }
    return scatter_of(holds);
}

std::optional<double> difference_of(Measure measure, const posing::Measured& now, const posing::Measured& before) {
    if (!now.value || !before.value) return std::nullopt;
    const double difference = *now.value - *before.value;
    return measure == Measure::facing ? std::remainder(difference, 360.0) : difference;
}

/// How tall she stands in the picture is measured within 2 %, which would be a wrong width. The alignment goes by hips,
/// shoulders and ankles of both films at once, so the earlier widths are told in heights of the later picture.
void bring_to_one_scale(const StillBody& now_body, const StillBody& before_body, const Alignment& alignment,
                        MeasuredHold& now, MeasuredHold& before) {
    const double factor = before_body.height_px * alignment.before_to_now.scale / now_body.height_px;
    for (const Measure width : {Measure::shoulder_width, Measure::waist_width, Measure::hip_width})
        if (before[width].value) *before[width].value *= factor;
    now.at_one_scale = before.at_one_scale = true;
}

/// Mirrored, the earlier hold faces the other way.
void mirror_facing(MeasuredHold& hold) {
    if (hold[Measure::facing].value) hold[Measure::facing].value = -*hold[Measure::facing].value;
}

class Comparer {
  public:
    Comparer(Comparison& out, const ComparisonSettings& settings)
        : out_(out),
          settings_(settings),
          now_scatter_(scatter_in(out.now, settings, out.lengths)),
          before_scatter_(scatter_in(out.before, settings, out.lengths)) {}

    void add(const Pair& pair) {
        PairComparison made;
        made.pair = pair;
        made.alignment = align_pair(pair, out_.now, out_.before);
        if (!made.alignment) made.alignment_reason = reason_for(pair);
        const bool mirror = made.alignment && made.alignment->before_to_now.mirrored;
        MeasuredHold now = measured(out_.now, pair.now, pair.now_still_s, false);
        MeasuredHold before = measured(out_.before, pair.before, pair.before_still_s, mirror);
        if (mirror) mirror_facing(before);
        const auto a = still_body(out_.now[pair.now.take], pair.now_still_s);
        const auto b = still_body(out_.before[pair.before.take], pair.before_still_s);
        if (made.alignment && a && b) bring_to_one_scale(*a, *b, *made.alignment, now, before);
        for (std::size_t m = 0; m < measure_count; ++m) add_difference(static_cast<Measure>(m), now, before, made);
        out_.pairs.push_back(std::move(made));
    }

  private:
    [[nodiscard]] MeasuredHold measured(const Takes& takes, const HoldPlace& place, double still_s, bool mirror) const {
        const Take& take = takes[place.take];
        auto body = still_body(take, still_s);
        if (body && mirror) body = mirrored(*body, take.course->width);
        return measure_hold(hold_at(takes, place), *take.analysis, body ? &*body : nullptr, rules_in(settings_),
                            out_.lengths);
    }

    [[nodiscard]] std::string reason_for(const Pair& pair) const {
        if (!out_.now[pair.now.take].course || !out_.before[pair.before.take].course)
            return "measured from motion alone, without landmarks";
        return "hips, shoulders and ankles are not seen well enough in both";
    }

    void add_difference(Measure measure, const MeasuredHold& now, const MeasuredHold& before,
                        PairComparison& made) const {
        if (is_silhouette(measure) && !settings_.silhouettes) return;
        Difference d;
        d.measure = measure;
        d.now = now[measure];
        d.before = before[measure];
        d.difference = difference_of(measure, d.now, d.before);
        if (d.difference) {
            const auto m = static_cast<std::size_t>(measure);
            const auto limit = error_limit(measure, out_.lengths, now, before, now_scatter_[m], before_scatter_[m],
                                           out_.now[made.pair.now.take].analysis->height_cm);
            d.error = limit.value;
            d.source = limit.source;
        }
        made.differences.push_back(std::move(d));
    }

    Comparison& out_;
    const ComparisonSettings& settings_;
    Scatters now_scatter_, before_scatter_;
};

void add_warnings(Comparison& out) {
    const auto lacks = [](const Takes& takes) {
        return std::any_of(takes.begin(), takes.end(), [](const Take& take) { return !take.course; });
    };
    if (lacks(out.now) || lacks(out.before))
        out.warnings.emplace_back("Measured from motion alone: only hold times and stillness can be compared.");
    if (out.mirror.film != MirrorHint::none) out.warnings.push_back(out.mirror.reason);
}

}  // namespace

std::optional<bool> Difference::beyond_error() const {
    if (!difference || !error) return std::nullopt;
    return std::abs(*difference) > *error;
}

Comparison compare_takes(Takes now, Takes before, const ComparisonSettings& settings) {
    Comparison out;
    out.now = std::move(now);
    out.before = std::move(before);
    out.lengths = all_know_height(out.now) && all_know_height(out.before) ? Lengths::cm : Lengths::pct;
    const Pairing pairing = pair_holds(out.now, out.before, settings.pins);
    Comparer comparer(out, settings);
    for (const Pair& pair : pairing.pairs)
        if (!settings.pose || pair.pose == *settings.pose) comparer.add(pair);
    for (const Unpaired& unpaired : pairing.unpaired)
        if (!settings.pose || unpaired.pose == settings.pose) out.unpaired.push_back(unpaired);
    out.mirror = mirror_offer(out.now, out.before, pairing.pairs);
    add_warnings(out);
    return out;
}

std::string pose_title(const std::string& pose, const rules::RuleSet* rules) {
    if (pose.empty()) return "unnamed hold";
    if (rules != nullptr)
        if (const auto* expected = rules->find_pose(pose); expected != nullptr) return expected->title;
    const auto* known = rules::find_pose(pose);
    return known != nullptr ? std::string{known->title} : pose;
}

std::string pair_title(const Comparison& comparison, std::size_t rank, const rules::RuleSet* rules) {
    constexpr std::array words{"first", "second", "third", "fourth", "fifth"};
    const std::string& pose = comparison.pairs[rank].pair.pose;
    std::size_t before = 0, all = 0;
    for (std::size_t i = 0; i < comparison.pairs.size(); ++i) {
        if (comparison.pairs[i].pair.pose != pose) continue;
        ++all;
        if (i < rank) ++before;
    }
    const std::string title = pose_title(pose, rules);
    if (all < 2) return title;
    return before < words.size() ? fmt::format("{}, {} hold", title, words[before])
                                 : fmt::format("{}, hold {}", title, before + 1);
}

}  // namespace quarterturn::compare
