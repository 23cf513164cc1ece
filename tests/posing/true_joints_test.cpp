// The finder of holds on the demo routines' true joints, against bounds that the generator computes on its own from a
// finer sampling (stillness.hpp there, 120 Hz, a running mean).
#include <doctest/doctest.h>

#include "posing/joints.hpp"
#include "sample_scripts.hpp"

using namespace quarterturn;
using namespace quarterturn::test;

namespace {

HoldMatch holds_of(const std::filesystem::path& script) {
    const Result<TrueFilm> film = true_film(script);
    REQUIRE(film);
    std::vector<posing::Stretch> found;
    for (const posing::StillStretch& still : posing::find_still_stretches(film->joints)) found.push_back(still.bounds);
    return match_holds(found, film->stills);
}

}  // namespace

TEST_CASE("true joints give every hold and pause of the demo films within a picture's length") {
    std::size_t holds = 0;
    for (const char* folder : {"this_season", "earlier_season", "more"})
        for (const auto& script : scripts_in(folder)) {
            CAPTURE(script.filename().string());
            const HoldMatch match = holds_of(script);
            CHECK(match.missed.empty());
            CHECK(match.invented.empty());
            CHECK(match.worst(&Matched::start_error) < 0.05);
            CHECK(match.worst(&Matched::end_error) < 0.05);
            holds += match.matched.size();
        }
    CHECK(holds > 80);
}

TEST_CASE("planted sway, twist and tremor do not part a hold of true joints") {
    for (const auto& script : scripts_in("tuning")) {
        CAPTURE(script.filename().string());
        const HoldMatch match = holds_of(script);
        CHECK(match.missed.empty());
        CHECK(match.invented.empty());
    }
}
