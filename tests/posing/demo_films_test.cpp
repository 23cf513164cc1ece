// Holds from movement alone on the demo films, against the true joints. Each film is measured as a renamed copy in an
// empty folder, so that no answer can come from a file lying beside it. All films: tests/bench/holds_bench.
#include <doctest/doctest.h>

#include "body/motion.hpp"
#include "posing/analyse.hpp"
#include "sample_scripts.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::test;

namespace {

std::filesystem::path film_of(const std::string& folder, const std::string& name) {
    return std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips" / folder / (name + ".mp4");
}

HoldMatch measured(const std::string& folder, const std::string& name) {
    const TemporaryFolder empty;
    const auto copy = empty.path() / "film.mp4";
    REQUIRE(std::filesystem::copy_file(film_of(folder, name), copy));
    const Result<body::ObservedMotion> seen = body::observe_motion(copy);
    REQUIRE(seen);
    const Result<TrueFilm> truth = true_film(std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips" /
                                             "scripts" / folder / (name + ".json"));
    REQUIRE(truth);
    std::vector<posing::Stretch> found;
    for (const posing::Segment& segment : posing::analyse_motion(*seen).segments)
        if (segment.kind == posing::SegmentKind::hold) found.push_back({segment.start_s, segment.end_s});
    return match_holds(found, truth->stills);
}

}  // namespace

TEST_CASE("every hold of an undisturbed demo film is found, none invented, bounds within a quarter second") {
    const std::pair<const char*, const char*> films[] = {{"this_season", "2026-03-07_mandatory_poses"},
                                                         {"this_season", "2026-05-16_quarter_turns"},
                                                         {"earlier_season", "2025-03-08_quarter_turns"},
                                                         {"more", "turned_with_calls"},
                                                         {"more", "uneven_rate"}};
    for (const auto& [folder, name] : films) {
        CAPTURE(name);
        const HoldMatch match = measured(folder, name);
        CHECK_FALSE(match.missed_a_hold());
        CHECK(match.invented.empty());
        CHECK(match.worst(&Matched::start_error) < 0.25);
        CHECK(match.worst(&Matched::end_error) < 0.25);
        CHECK(match.worst(&Matched::length_error) < 0.3);
    }
}
