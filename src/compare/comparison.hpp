#pragma once
/// This film or session against an earlier one.
#include <optional>
#include <string>
#include <vector>

#include "compare/alignment.hpp"
#include "compare/measuring_error.hpp"
#include "compare/pairing.hpp"
#include "rules/rule_set.hpp"

namespace quarterturn::compare {

struct Difference {
    Measure measure = Measure::hold_s;
    posing::Measured now, before;
    std::optional<double> difference;  ///< now - before; facings the shorter way round. Absent when either is
    std::optional<double> error;       ///< what it must exceed to be more than measuring error; absent: not known
    ErrorSource source = ErrorSource::none;
    /// Absent: there is no difference, or its error is not known.
    [[nodiscard]] std::optional<bool> beyond_error() const;
};

struct PairComparison {
    Pair pair;
    std::optional<Alignment> alignment;
    std::string alignment_reason;         ///< why there is none
    std::vector<Difference> differences;  ///< in the order of Measure; those about the outline left out when hidden
};

struct ComparisonSettings {
    std::optional<rules::RuleSet> rules;  ///< for the score
    std::optional<std::string> pose;      ///< only this pose
    bool silhouettes = true;              ///< false: no numbers about the body's outline
    Pins pins;
};

struct Comparison {
    Takes now, before;
    Lengths lengths = Lengths::pct;
    std::vector<PairComparison> pairs;
    std::vector<Unpaired> unpaired;
    MirrorOffer mirror;
    std::vector<std::string> warnings;  ///< plain sentences: motion alone, poses in one film only
};

/// Never fails: without a pose in common there are no pairs.
/// @param now, before  not empty
[[nodiscard]] Comparison compare_takes(Takes now, Takes before, const ComparisonSettings& settings = {});

/// A pose's name for people: the rule set's, else the catalogue's, else its id; "unnamed hold" for none.
[[nodiscard]] std::string pose_title(const std::string& pose, const rules::RuleSet* rules = nullptr);

/// The pose's name of a pair; with "first hold", "second hold" where the comparison has several of it.
/// @param rank  of the pair in `comparison.pairs`
[[nodiscard]] std::string pair_title(const Comparison& comparison, std::size_t rank,
                                     const rules::RuleSet* rules = nullptr);

/// What differs by more than the error, and what does not, in plain words: one sentence for each pair, after one for
/// all. About posing only; outlines are given as numbers, never judged.
[[nodiscard]] std::vector<std::string> summary_of(const Comparison& comparison, const rules::RuleSet* rules = nullptr);

}  // namespace quarterturn::compare
