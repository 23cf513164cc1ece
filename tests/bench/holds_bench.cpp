// Holds from movement alone on every demo film (and any further film given as FILM SCRIPT pairs) against true joints.
// Must hold on the undisturbed ones: none missed, none invented, bounds within 0.25 s, length within 0.3 s.
#include <fmt/format.h>

#include "../posing/sample_scripts.hpp"
#include "bench_films.hpp"
#include "body/motion.hpp"
#include "posing/analyse.hpp"

namespace {

using namespace quarterturn;
using namespace quarterturn::test;

struct Totals {
    int matched = 0, missed = 0, invented = 0;
    std::vector<double> start, end, length;

    void print(const char* name) {
        fmt::print("{}: {} found, {} missed, {} invented\n", name, matched, missed, invented);
        for (auto& [label, errors] : {std::pair{"start", &start}, {"end", &end}, {"length", &length}})
            if (!errors->empty())
                fmt::print("  {:6} error: median {:.3f} s, worst {:.3f} s\n", label, bench::median(*errors),
                           *std::max_element(errors->begin(), errors->end()));
    }
};

void measure(const std::filesystem::path& path, const std::filesystem::path& script, Totals& totals) {
    const Result<body::ObservedMotion> seen = body::observe_motion(path);
    const Result<TrueFilm> truth = true_film(script);
    if (!seen || !truth) {
        fmt::print("{}: {}\n", path.string(), seen ? truth.error().detail : seen.error().detail);
        return;
    }
    std::vector<posing::Stretch> found;
    for (const posing::Segment& segment : posing::analyse_motion(*seen).segments)
        if (segment.kind == posing::SegmentKind::hold) found.push_back({segment.start_s, segment.end_s});
    const HoldMatch match = match_holds(found, truth->stills);
    fmt::print("{}: {} of {} found, {} invented; worst start {:.2f}, end {:.2f}, length {:.2f} s\n",
               path.filename().string(), match.matched.size(), match.matched.size() + match.missed.size(),
               match.invented.size(), match.worst(&Matched::start_error), match.worst(&Matched::end_error),
               match.worst(&Matched::length_error));
    totals.missed += static_cast<int>(match.missed.size());
    totals.invented += static_cast<int>(match.invented.size());
    for (const Matched& one : match.matched) {
        ++totals.matched;
        totals.start.push_back(std::abs(one.start_error()));
        totals.end.push_back(std::abs(one.end_error()));
        totals.length.push_back(std::abs(one.length_error()));
    }
}

}  // namespace

int main(int argc, char** argv) {
    Totals undisturbed, disturbed;
    for (const char* folder : {"this_season", "earlier_season", "more"})
        for (const auto& script : scripts_in(folder)) {
            const auto film = std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips" / folder /
                              (script.stem().string() + ".mp4");
            const Result<TrueFilm> truth = true_film(script);
            if (!std::filesystem::exists(film) || !truth) continue;
            const auto& steps = truth->script.steps;
            const bool planted =
                std::any_of(steps.begin(), steps.end(), [](const auto& s) { return !s.disturb.empty(); });
            measure(film, script, planted ? disturbed : undisturbed);
        }
    Totals given;
    for (int i = 1; i + 1 < argc; i += 2) measure(argv[i], argv[i + 1], given);
    undisturbed.print("undisturbed");
    disturbed.print("with planted sway, twist or fidgeting");
    if (given.matched + given.missed + given.invented > 0) given.print("given");
}
