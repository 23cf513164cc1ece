#pragma once
/// From films and sessions to what the compare room works on. What the command line, the report and the window call.
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "compare/comparison.hpp"
#include "compare/nearest_match.hpp"
#include "journal/store.hpp"
#include "share/measure.hpp"

namespace quarterturn::share {

struct ComparedFilm {
    compare::Take take;
    std::filesystem::path film;
    std::optional<int> rotation_deg;  ///< instead of the file's
};

/// A film or a session on one side of a comparison.
struct ComparedSide {
    std::string title;  ///< for captions: "16 May 2026, 2 weeks out", or the film's name
    std::vector<ComparedFilm> films;

    [[nodiscard]] compare::Takes takes() const;
    [[nodiscard]] std::vector<std::string> fingerprints() const;
};

/// A bare film, measured now. @error as measure_film
[[nodiscard]] Result<ComparedSide> compared_film(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                                 const MeasureSettings& settings);

/// Clips of one session of a library, a person's corrections laid over them: measured or from the cache.
/// @param clips  of one session, at least one @error as measure_clip and film_landmarks
[[nodiscard]] Result<ComparedSide> compared_clips(const journal::Store& store, const journal::Library& library,
                                                  const std::vector<const journal::Clip*>& clips,
                                                  const MeasureSettings& settings);
/// All clips of the session that count. @error not_found: there are none
[[nodiscard]] Result<ComparedSide> compared_session(const journal::Store& store, const journal::Library& library,
                                                    const journal::Session& session, const MeasureSettings& settings);
/// The same with what is in the cache only: clips that are not measured, and films that are gone, are left out.
[[nodiscard]] ComparedSide cached_session(const journal::Store& store, const journal::Library& library,
                                          const journal::Session& session, const MeasureSettings& settings);

/// The library's pins about these films, as the compare room takes them; pins about other films are passed over.
[[nodiscard]] compare::Pins pins_between(const journal::Library& library, const ComparedSide& now,
                                         const ComparedSide& before);

/// The rule set of the season to which the side's first clip belongs. @error not_found: it is no clip of the library
[[nodiscard]] Result<rules::RuleSet> rules_of_side(const journal::Store& store, const journal::Library& library,
                                                   const ComparedSide& side);

struct ProposedMatch {
    std::string session;  ///< id
    compare::Match match;
    std::string reason;  ///< "11 May 2025: same division, 3 weeks out (this one 2), 5 of 6 poses"
};
/// Sessions of seasons whose show was earlier, nearest match first; poses by the analyses in the cache.
[[nodiscard]] std::vector<ProposedMatch> proposed_matches(const journal::Store& store, const journal::Library& library,
                                                          const journal::Session& session,
                                                          const MeasureSettings& settings);

}  // namespace quarterturn::share
