#include <fmt/format.h>

#include <cmath>
#include <set>

#include "compare/comparison.hpp"

namespace quarterturn::compare {
namespace {

std::string amount(const Difference& d, Lengths lengths) {
    const std::string_view unit = measure_unit(d.measure, lengths);
    const bool tight = unit == "°";
    return fmt::format("{:.{}f}{}{}", std::abs(*d.difference), measure_decimals(d.measure), tight ? "" : " ", unit);
}

/// "held 1.9 s longer"; empty for measures that say little to a person by themselves.
std::string phrase(const Difference& d, Lengths lengths) {
    const bool more = *d.difference > 0;
    const std::string by = amount(d, lengths);
    switch (d.measure) {
        case Measure::hold_s:
            return fmt::format("held {} {}", by, more ? "longer" : "shorter");
        case Measure::stillness:
            return more ? "less still" : "stiller";
        case Measure::sway_rms:
            return fmt::format("{} {} sway", by, more ? "more" : "less");
        case Measure::twist_rms:
            return fmt::format("{} {} twist", by, more ? "more" : "less");
        case Measure::hands_fidget_rms:
            return more ? "hands less quiet" : "hands quieter";
        case Measure::hands_settling:
            return fmt::format("hands settle {} {}", by, more ? "later" : "sooner");
        case Measure::score:
            return fmt::format("score {} {}", by, more ? "higher" : "lower");
        case Measure::hand_height_difference:
            return fmt::format("left hand {} {} against the right", by, more ? "higher" : "lower");
        case Measure::facing:
            return fmt::format("turned {} {}", by,
                               more ? "further to the athlete's right" : "further to the athlete's left");
        case Measure::shoulder_width:
        case Measure::waist_width:
        case Measure::hip_width:
            return fmt::format("{} {} of the height {}",
                               d.measure == Measure::shoulder_width ? "shoulder width"
                               : d.measure == Measure::waist_width  ? "waist width"
                                                                    : "hip width",
                               by, more ? "more" : "less");
        default: {
            std::string title{measure_title(d.measure)};
            title[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(title[0])));
            return fmt::format("{} {} {}", title, by, more ? "more open" : "more closed");
        }
    }
}

std::string sentence_for(const PairComparison& pair, Lengths lengths, const std::string& title) {
    std::string words;
    for (const Difference& d : pair.differences)
        if (d.beyond_error().value_or(false)) words += (words.empty() ? "" : ", ") + phrase(d, lengths);
    if (words.empty()) return title + ": no difference beyond the measuring error.";
    return title + ": " + words + ".";
}

/// A pose held twice is two pairs.
std::string held_in_both(const Comparison& comparison) {
    std::set<std::string> poses;
    for (const PairComparison& pair : comparison.pairs) poses.insert(pair.pair.pose);
    const auto pairs = comparison.pairs.size();
    if (poses.size() == pairs) return fmt::format("{} {} held in both", pairs, pairs == 1 ? "pose is" : "poses are");
    return fmt::format("{} holds of {} {} are in both", pairs, poses.size(), poses.size() == 1 ? "pose" : "poses");
}

}  // namespace

std::vector<std::string> summary_of(const Comparison& comparison, const rules::RuleSet* rules) {
    if (comparison.pairs.empty()) return {"No pose is held in both, so nothing can be compared."};
    int differ = 0;
    for (const PairComparison& pair : comparison.pairs)
        for (const Difference& d : pair.differences)
            if (d.beyond_error().value_or(false)) {
                ++differ;
                break;
            }
    std::vector<std::string> out;
    const std::string differing = comparison.pairs.size() == 1
                                      ? std::string{differ == 1 ? "it differs" : "it does not differ"}
                                      : fmt::format("{} of them {}", differ, differ == 1 ? "differs" : "differ");
    out.push_back(fmt::format("{}; {} by more than the measuring error.", held_in_both(comparison), differing));
    for (std::size_t i = 0; i < comparison.pairs.size(); ++i)
        out.push_back(sentence_for(comparison.pairs[i], comparison.lengths, pair_title(comparison, i, rules)));
    return out;
}

}  // namespace quarterturn::compare
