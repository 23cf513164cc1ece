#include "share/report_comparison.hpp"

#include <fmt/format.h>

#include <numbers>

#include "share/base64.hpp"
#include "share/compare_films.hpp"
#include "share/side_by_side.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

using compare::Difference;
using compare::ErrorSource;
using compare::PairComparison;

Result<Still> still_of(const media::Image& image) {
    const auto jpeg = media::encode_jpeg(image, 82);
    if (!jpeg) return jpeg.error();
    return Still{"data:image/jpeg;base64," + base64(*jpeg), image.width, image.height};
}

void add_stills(const ComparedSide& now, const ComparedSide& before, int height, SeasonsBeside& out) {
    PairPictures pictures(now, before);
    for (std::size_t i = 0; i < out.comparison.pairs.size(); ++i) {
        const auto images = pictures.of(out.comparison, out.comparison.pairs[i], height, false);
        const auto left = images ? still_of(images->now) : Result<Still>{images.error()};
        const auto right = images ? still_of(images->before) : Result<Still>{images.error()};
        if (left && right)
            out.stills.emplace(i, PairStills{*left, *right, images->aligned});
        else if (out.remarks.empty())
            out.remarks.push_back("No stills beside each other: " + (left ? right.error() : left.error()).detail);
    }
}

bool is_shown(const Difference& d) {
    if (!d.difference) return false;
    return !compare::is_angle(d.measure) || d.beyond_error().value_or(false);
}

std::string verdict_words(const Difference& d, compare::Lengths lengths) {
    const auto beyond = d.beyond_error();
    if (!beyond) return "error not known";
    std::string error = compare::measure_words(d.measure, lengths, *d.error);
    if (const auto space = error.find(' '); space != std::string::npos) error.replace(space, 1, "\u00A0");
    return fmt::format("{} the error, {} ({})", *beyond ? "more than" : "within", error,
                       d.source == ErrorSource::repeats ? "repeats" : "method");
}

std::string minus_signs(std::string words) {
    if (words.starts_with('-')) words.replace(0, 1, "\u2212");
    return words;
}

Html table_of(const PairComparison& pair, compare::Lengths lengths) {
    Html html;
    html.open("div", {{"class", "wide differences"}}).open("table").open("thead").open("tr");
    html.element("th", "", {{"scope", "col"}});
    for (const char* name : {"Now", "Before", "Difference"})
        html.element("th", name, {{"scope", "col"}, {"class", "number"}});
    html.close().close().open("tbody");
    for (const Difference& d : pair.differences) {
        if (!is_shown(d)) continue;
        html.open("tr").element("th", std::string{compare::measure_title(d.measure)}, {{"scope", "row"}});
        for (const std::string& words : {compare::measure_words(d.measure, lengths, *d.now.value),
                                         compare::measure_words(d.measure, lengths, *d.before.value)})
            html.element("td", minus_signs(words), {{"class", "number"}});
        // Below the difference, so that no narrow screen shows one without the other.
        html.open("td", {{"class", "number"}});
        html.text(minus_signs(compare::measure_words(d.measure, lengths, *d.difference, true)));
        html.element("span", verdict_words(d, lengths), {{"class", "measure"}}).close().close();
    }
    return html.close().close().close();
}

std::string alignment_words(const PairComparison& pair) {
    if (!pair.alignment) return fmt::format("Not brought to one scale: {}.", pair.alignment_reason);
    const auto& t = pair.alignment->before_to_now;
    std::string words = fmt::format(
        "The earlier picture is shown {:.2f} times as large{}; {:.1f} % of body height are "
        "left between hips, shoulders and ankles",
        t.scale, t.mirrored ? " and mirrored" : "", pair.alignment->residual_body_pct);
    if (pair.alignment->perspective_body_pct >= 0.3)
        words +=
            fmt::format(", and the two distances of the phone may add {:.1f} %", pair.alignment->perspective_body_pct);
    return words + ".";
}

Html pair_section(const SeasonsBeside& beside, std::size_t rank) {
    const PairComparison& pair = beside.comparison.pairs[rank];
    const std::string title = compare::pair_title(beside.comparison, rank, &beside.rule_set);
    const std::string id = fmt::format("beside-{}", rank);
    Html html;
    html.open("section", {{"aria-labelledby", id}}).element("h3", title, {{"id", id}});
    if (const auto stills = beside.stills.find(rank); stills != beside.stills.end()) {
        html.open("div", {{"class", "beside"}});
        const auto figure = [&](const Still& still, const std::string& when) {
            html.open("figure").lone("img", {{"src", still.data_uri},
                                             {"alt", title + ", " + when},
                                             {"width", fmt::format("{}", still.width)},
                                             {"height", fmt::format("{}", still.height)}});
            html.element("figcaption", when).close();
        };
        figure(stills->second.now, beside.now_title);
        figure(stills->second.before, beside.before_title);
        html.close();
    }
    html.add(table_of(pair, beside.comparison.lengths));
    html.element("p", alignment_words(pair), {{"class", "origin"}});
    return html.close();
}

}  // namespace

std::optional<SeasonsBeside> seasons_beside(const journal::Store& store, const journal::Library& library,
                                            const journal::Session& session, const MeasureSettings& settings,
                                            int still_height) {
    const ComparedSide now = cached_session(store, library, session, settings);
    if (now.films.empty()) return std::nullopt;
    const auto rules = rules_of_side(store, library, now);
    if (!rules) return std::nullopt;
    for (const ProposedMatch& proposed : proposed_matches(store, library, session, settings)) {
        if (!proposed.match.same_division) break;
        const auto* earlier = library.find_session(proposed.session);
        const ComparedSide before = cached_session(store, library, *earlier, settings);
        if (before.films.empty()) continue;
        compare::ComparisonSettings how;
        how.rules = *rules;
        how.silhouettes = !library.athlete.hide_body_numbers;
        how.pins = pins_between(library, now, before);
        SeasonsBeside out{now.title, before.title, *rules, compare::compare_takes(now.takes(), before.takes(), how), {},
                          {}};
        if (out.comparison.pairs.empty()) continue;
        if (still_height > 0) add_stills(now, before, still_height, out);
        return out;
    }
    return std::nullopt;
}

Html comparison_sections(const SeasonsBeside& beside) {
    Html html;
    html.element("h2", fmt::format("Beside the earlier season: {} and {}", beside.now_title, beside.before_title),
                 {{"class", "part"}});
    html.open("section", {{"aria-labelledby", "differences"}}).element("h2", "What differs", {{"id", "differences"}});
    html.open("ul", {{"class", "stands"}});
    for (const auto& sentence : compare::summary_of(beside.comparison, &beside.rule_set)) html.element("li", sentence);
    html.close();
    for (const auto& warning : beside.comparison.warnings) html.element("p", warning);
    html.element(
        "p",
        "A difference is told when it is more than the error: what repeats of a pose in one session scatter by, "
        "or what measuring is known to be off by. Numbers are about posing, never about the worth of a body.",
        {{"class", "quiet"}});
    html.close();
    for (std::size_t i = 0; i < beside.comparison.pairs.size(); ++i) html.add(pair_section(beside, i));
    return html;
}

}  // namespace quarterturn::share
