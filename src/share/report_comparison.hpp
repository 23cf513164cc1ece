#pragma once
/// This season beside an earlier one, in a season's report.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "compare/comparison.hpp"
#include "journal/store.hpp"
#include "share/film_stills.hpp"
#include "share/html.hpp"
#include "share/measure.hpp"

namespace quarterturn::share {

/// Two stills of one pair, the earlier one laid over to the later one's scale and place.
struct PairStills {
    Still now, before;
    bool aligned = false;
};

struct SeasonsBeside {
    std::string now_title, before_title;  ///< "16 May 2026, 2 weeks out"
    rules::RuleSet rule_set;
    compare::Comparison comparison;
    std::map<std::size_t, PairStills> stills;  ///< by rank of the pair; pairs without are shown in numbers only
    std::vector<std::string> remarks;          ///< plain sentences: stills that could not be had
};

/// The session against the nearest match of an earlier season of the same division, from what is in the cache.
/// @param still_height  rows; 0: no stills
/// @return nullopt: there is no such season, or nothing in common was measured
[[nodiscard]] std::optional<SeasonsBeside> seasons_beside(const journal::Store& store, const journal::Library& library,
                                                          const journal::Session& session,
                                                          const MeasureSettings& settings, int still_height);

/// What differs in words, then pair by pair the stills and a table. A number that one of the two lacks is left out;
/// angles are shown where they differ by more than the error.
[[nodiscard]] Html comparison_sections(const SeasonsBeside& beside);

}  // namespace quarterturn::share
