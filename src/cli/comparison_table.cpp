#include "cli/comparison_table.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "cli/table.hpp"

namespace quarterturn::cli {
namespace {

using compare::Comparison;
using compare::Difference;
using compare::ErrorSource;
using compare::PairComparison;

std::string in_unit(const std::optional<double>& value, const Difference& d, const Comparison& comparison,
                    bool is_signed = false) {
    return value ? compare::measure_words(d.measure, comparison.lengths, *value, is_signed) : "-";
}

std::string verdict(const Difference& d) {
    if (!d.difference) return "";
    if (!d.error) return "error not known";
    return *d.beyond_error() ? "more than the error" : "within the error";
}

std::string source(const Difference& d) {
    return d.source == ErrorSource::repeats ? "repeats" : d.source == ErrorSource::method ? "method" : "";
}

Table table_of(const PairComparison& pair, const Comparison& comparison) {
    Table table{{"", "now", "before", "difference", "error", "from", ""}, {}, {false, true, true, true, true}};
    for (const Difference& d : pair.differences) {
        if (!d.now.value && !d.before.value) continue;
        table.rows.push_back({std::string{compare::measure_title(d.measure)}, in_unit(d.now.value, d, comparison),
                              in_unit(d.before.value, d, comparison), in_unit(d.difference, d, comparison, true),
                              in_unit(d.error, d, comparison), source(d), verdict(d)});
    }
    return table;
}

std::string alignment_line(const PairComparison& pair) {
    if (!pair.alignment) return fmt::format("Not aligned: {}.\n", pair.alignment_reason);
    const auto& t = pair.alignment->before_to_now;
    return fmt::format(
        "Aligned: earlier picture times {:.2f}, turned {:.1f}°{}; {:.1f} % of body height are left over{}.\n", t.scale,
        t.turn_rad * 180 / std::numbers::pi, t.mirrored ? ", mirrored" : "", pair.alignment->residual_body_pct,
        pair.alignment->perspective_body_pct >= 0.3
            ? fmt::format(", up to {:.1f} % more from the camera's distance", pair.alignment->perspective_body_pct)
            : std::string{});
}

std::string place(const compare::Takes& takes, const compare::HoldPlace& hold, double still_s) {
    const std::string at = fmt::format("{:.1f} s", still_s);
    return takes.size() > 1 ? at + " in " + takes[hold.take].name : at;
}

}  // namespace

std::string comparison_table(const Comparison& comparison, const rules::RuleSet* rules) {
    std::string out;
    for (const std::string& sentence : compare::summary_of(comparison, rules)) out += sentence + "\n";
    for (std::size_t i = 0; i < comparison.pairs.size(); ++i) {
        const PairComparison& pair = comparison.pairs[i];
        out += fmt::format("\n{}: steadiest at {}, before at {}{}\n", compare::pair_title(comparison, i, rules),
                           place(comparison.now, pair.pair.now, pair.pair.now_still_s),
                           place(comparison.before, pair.pair.before, pair.pair.before_still_s),
                           pair.pair.by_person ? " (paired by hand)" : "");
        out += format_table(table_of(pair, comparison));
        out += alignment_line(pair);
    }
    for (const auto& unpaired : comparison.unpaired) {
        const auto& takes = unpaired.is_now ? comparison.now : comparison.before;
        out += fmt::format("Only {}: {} at {:.1f} s\n", unpaired.is_now ? "now" : "before",
                           compare::pose_title(unpaired.pose.value_or(""), rules),
                           compare::hold_at(takes, unpaired.place).start_s);
    }
    for (const std::string& warning : comparison.warnings) out += fmt::format("Note: {}\n", warning);
    return out;
}

}  // namespace quarterturn::cli
