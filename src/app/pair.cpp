#include "app/pair.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "compare/placement.hpp"

namespace quarterturn::app {

const compare::PairComparison* PairDesk::chosen() const {
    return made && pair < made->made.pairs.size() ? &made->made.pairs[pair] : nullptr;
}

std::optional<compare::DueMoment> PairDesk::due() const {
    if (!films) return std::nullopt;
    if (at_stills && chosen() != nullptr)
        return compare::DueMoment{chosen()->pair.now_still_s, chosen()->pair.before_still_s};
    return films->sync->at(clock_s, sync, offset);
}

const posing::ClipFacts& PairDesk::now_clip() const {
    return made->made.now[films->now_take].analysis->clip;
}
const posing::ClipFacts& PairDesk::before_clip() const {
    return made->made.before[films->before_take].analysis->clip;
}
double PairDesk::duration_s() const {
    return films ? now_clip().duration_s : 0;
}

std::vector<compare::HoldPlace> holds_of(const compare::Takes& takes) {
    std::vector<compare::HoldPlace> out;
    for (std::size_t t = 0; t < takes.size(); ++t)
        for (std::size_t s = 0; s < takes[t].analysis->segments.size(); ++s)
            if (takes[t].analysis->segments[s].kind == posing::SegmentKind::hold) out.push_back({t, s});
    return out;
}

PairBasis basis_of(const journal::Library& library, const PairMade& made) {
    PairBasis basis;
    std::set<std::string> clips;
    for (const auto* side : {&made.now, &made.before})
        for (const std::string& clip : side->fingerprints()) clips.insert(clip);
    for (const std::string& id : clips) {
        const auto* clip = library.find_clip(id);
        if (clip == nullptr) continue;
        basis.clips += fmt::format("{} {} {} {} {} {};", id, clip->mirrored, clip->counts, clip->time_scale,
                                   clip->rotation_deg.value_or(-1), clip->tilt_deg.value_or(-90));
        if (const auto& at = clip->athlete_at) basis.clips += fmt::format("{} {} {};", at->pts, at->x, at->y);
        for (const auto& correction : library.corrections_of(id)) basis.clips += correction.id + ";";
    }
    for (const journal::Pin& pin : library.pins)
        if (!pin.removed && clips.contains(pin.now.clip) && clips.contains(pin.before.clip))
            basis.pins +=
                fmt::format("{} {} {} {} {};", pin.now.clip, pin.now.at.value_or(0), pin.before.at.value_or(0),
                            pin.now.hold ? pin.now.hold->start : -1, pin.before.hold ? pin.before.hold->start : -1);
    basis.pins += library.athlete.hide_body_numbers ? "hidden" : "";
    return basis;
}

std::vector<const journal::Pin*> moment_pins(const journal::Library& library, const PairDesk& desk) {
    std::vector<const journal::Pin*> out;
    if (!desk.films) return out;
    for (const journal::Pin& pin : library.pins)
        if (!pin.removed && pin.kind == journal::PinKind::moments && pin.now.clip == desk.now_clip().fingerprint &&
            pin.before.clip == desk.before_clip().fingerprint)
            out.push_back(&pin);
    return out;
}

std::int64_t picture_at(const media::FrameIndex& index, const posing::ClipFacts& clip, double seconds) {
    if (index.pictures.empty()) return 0;
    // A ten thousandth of a second of slack, as compare::rank_on_screen: seconds have been through doubles.
    const std::int64_t tick = compare::pts_of(clip, seconds + 1e-4);
    return index.pictures[index.rank_at(tick).value_or(0)].pts;
}

compare::Affine placement(const PairDesk& desk) {
    const auto due = desk.due();
    if (!due) return {1, 0, 0, 0, 1, 0};
    const compare::Pair* pair = desk.chosen() != nullptr ? &desk.chosen()->pair : nullptr;
    const bool here = pair != nullptr && desk.films->now_take == pair->now.take;
    if (desk.aligned && here)
        if (const auto found =
                compare::placement_at(desk.made->made, desk.films->now_take, desk.films->before_take, due->now_s))
            return *found;
    const media::ClipInfo &now = desk.films->now_info, &before = desk.films->before_info;
    const double bw = std::max(1, before.shown_width()), bh = std::max(1, before.shown_height());
    const double scale = std::min(now.shown_width() / bw, now.shown_height() / bh);
    return compare::scaled(scale, scale, (now.shown_width() - scale * bw) / 2, (now.shown_height() - scale * bh) / 2);
}

namespace {

compare::Affine inverse(const compare::Affine& m) {
    const double det = m[0] * m[4] - m[1] * m[3];
    if (std::abs(det) < 1e-12) return {1, 0, 0, 0, 1, 0};
    const double a = m[4] / det, b = -m[1] / det, d = -m[3] / det, e = m[0] / det;
    return {a, b, -a * m[2] - b * m[5], d, e, -d * m[2] - e * m[5]};
}

}  // namespace

compare::Affine to_earlier_picture(const PairDesk& desk) {
    if (!desk.films) return {1, 0, 0, 0, 1, 0};
    const media::ClipInfo &now = desk.films->now_info, &before = desk.films->before_info;
    compare::Affine map = compare::scaled(now.shown_width(), now.shown_height());
    map = compare::after(map, inverse(placement(desk)));
    map = compare::after(
        map, compare::scaled(1.0 / std::max(1, before.shown_width()), 1.0 / std::max(1, before.shown_height())));
    if (desk.before_clip().mirrored) map = compare::after(map, {-1, 0, 1, 0, 1, 0});
    return map;
}

namespace {

/// Rounded to what is shown; never "-0".
double shown(double value, int decimals) {
    const double unit = std::pow(10.0, decimals);
    return std::round(value * unit) / unit + 0.0;
}

std::string number(const posing::Measured& value, compare::Measure measure) {
    if (!value.value) return "-";
    const int decimals = compare::measure_decimals(measure);
    return fmt::format("{:.{}f}", shown(*value.value, decimals), decimals);
}

std::string verdict_of(const compare::Difference& d) {
    if (!d.difference) return "cannot be said";
    const auto beyond = d.beyond_error();
    if (!beyond) return "measuring error not known";
    return *beyond ? (*d.difference > 0 ? "more" : "less") : "within the measuring error";
}

std::string source_of(compare::ErrorSource source) {
    switch (source) {
        case compare::ErrorSource::repeats:
            return "The error comes from how far repeats of a pose within a session differ.";
        case compare::ErrorSource::method:
            return "The error is what the method is known to err by.";
        case compare::ErrorSource::none:
            break;
    }
    return "How far this measure errs is not known.";
}

}  // namespace

std::vector<DifferenceLine> difference_lines(const compare::Comparison& made, const compare::PairComparison& pair) {
    std::vector<DifferenceLine> lines;
    for (const compare::Difference& d : pair.differences) {
        if (!d.now.value && !d.before.value) continue;
        DifferenceLine line;
        const std::string unit(compare::measure_unit(d.measure, made.lengths));
        // What stands in brackets about more and less has no room in the table; the hint says it.
        const std::string whole(compare::measure_title(d.measure));
        const bool said = unit.empty() || whole.find(unit) != std::string::npos;
        const std::string of_unit = said ? "" : ", " + unit;
        line.title = whole.substr(0, whole.find(" (less")) + of_unit;
        line.now = number(d.now, d.measure);
        line.before = number(d.before, d.measure);
        const int decimals = compare::measure_decimals(d.measure);
        line.difference = d.difference ? fmt::format("{:+.{}f}", shown(*d.difference, decimals), decimals) : "-";
        line.error = d.error ? fmt::format("{:.{}f}", *d.error, decimals) : "-";
        line.beyond = d.beyond_error().value_or(false);
        line.verdict = verdict_of(d);
        line.hint = whole + of_unit + ". ";
        if (!d.now.value) line.hint += "This season: " + d.now.reason + ". ";
        if (!d.before.value) line.hint += "Earlier: " + d.before.reason + ". ";
        line.hint += source_of(d.source);
        lines.push_back(std::move(line));
    }
    return lines;
}

}  // namespace quarterturn::app
