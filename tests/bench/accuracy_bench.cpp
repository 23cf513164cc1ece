// How well drawn films are measured by landmarks, the whole way as share::measure_film goes it, against their truth:
//
//     accuracy_bench [--cache DIR] [--fresh] [--no-trunk] [--brief] FILM...      (FILM.truth.json beside each)
//
// Reading a film by the network takes most of the time; with --cache it is done once for each film and version of the
// landmarks (--fresh does it again). --no-trunk leaves out twist and sway and their large pictures. --brief prints the
// totals only. Without FILM: the films that come along.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "../posing/accuracy.hpp"
#include "../posing/true_measures.hpp"
#include "bench_films.hpp"
#include "kept_film.hpp"
#include "trunk_accuracy.hpp"

namespace {

using namespace quarterturn;
using namespace quarterturn::bench;
using test::Accuracy;
using test::percentile;

struct Options {
    KeepSettings keep;
    bool brief = false;
    std::vector<std::filesystem::path> films;
};

std::vector<std::filesystem::path> shipped_films() {
    std::vector<std::filesystem::path> films;
    for (const char* folder : {"earlier_season", "this_season", "more"})
        for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(QUARTERTURN_SOURCE_DIR) /
                                                                     "sample_clips" / folder))
            if (entry.path().extension() == ".mp4") films.push_back(entry.path());
    std::sort(films.begin(), films.end());
    return films;
}

Options options_from(int argc, char** argv) {
    Options options;
    for (int i = 1; i < argc; ++i) {
        const std::string word = argv[i];
        if (word == "--cache" && i + 1 < argc)
            options.keep.folder = argv[++i];
        else if (word == "--fresh")
            options.keep.fresh = true;
        else if (word == "--no-trunk")
            options.keep.trunk = false;
        else if (word == "--brief")
            options.brief = true;
        else
            options.films.emplace_back(word);
    }
    if (options.films.empty()) options.films = shipped_films();
    return options;
}

std::string spread(std::vector<double> errors, int decimals) {
    if (errors.empty()) return "none";
    for (double& error : errors) error = std::abs(error);
    return fmt::format("median {:.{}f}, 90 % {:.{}f}, 95 % {:.{}f}, worst {:.{}f} of {}", percentile(errors, 0.5),
                       decimals, percentile(errors, 0.9), decimals, percentile(errors, 0.95), decimals,
                       percentile(errors, 1), decimals, errors.size());
}

std::string counts(const std::vector<double>& errors) {
    const auto within = [&](double most) {
        return std::count_if(errors.begin(), errors.end(), [&](double error) { return error <= most; });
    };
    return fmt::format("{} of {} right, {} within one, worst {:.0f}", within(0), errors.size(), within(1),
                       percentile(errors, 1));
}

void print(const Accuracy& a) {
    fmt::print("  holds and pauses: {} of {} right, {} invented\n", a.stills_right, a.stills, a.invented);
    fmt::print("  pose labels: {} of {} right, {} wrong\n", a.labels, a.holds, a.labels_wrong);
    fmt::print("  hold length off, s: {}\n", spread(a.length_errors_s, 2));
    fmt::print("  hold start off, s: {}\n  hold end off, s: {}\n", spread(a.start_errors_s, 2),
               spread(a.end_errors_s, 2));
    fmt::print("  facing off, degrees: {}\n", spread(a.facing_errors_deg, 1));
    fmt::print("  turn of transitions off, degrees: {}\n", spread(a.turn_errors_deg, 1));
    fmt::print("  steps of stage walks: {}\n  steps of transitions: {}\n", counts(a.step_errors),
               counts(a.transition_step_errors));
    fmt::print("  cadence of stage walks off, per minute: {}\n", spread(a.cadence_errors, 1));
}

struct Totals {
    Accuracy body, order;
    std::vector<HoldTrunk> trunk;
    std::vector<test::MeasureError> measures;
};

void print_measures(const std::vector<test::MeasureError>& all) {
    std::map<std::string, std::vector<double>> errors;
    for (const auto& one : all) errors[one.item].push_back(one.error());
    fmt::print("checks and hands off (degrees, cm)\n");
    for (const auto& [item, values] : errors)
        fmt::print("  {:18} {}; middle one {:+.1f}\n", item, spread(values, 1), percentile(values, 0.5));
}

void measure(const std::filesystem::path& path, const Options& options, Totals& totals) {
    const auto film = kept_film(path, options.keep);
    if (!film) {
        fmt::print("{}: {}\n", path.string(), film.error().detail);
        return;
    }
    share::FilmKnowledge no_rules = film->knowledge;
    no_rules.rule_set.reset();
    const posing::Analysis by_body = share::analyse_seen(film->read, film->seen, no_rules);
    share::FilmKnowledge every_check = film->knowledge;
    if (every_check.rule_set) every_check.rule_set = test::with_every_check(*every_check.rule_set);
    const posing::Analysis by_order = share::analyse_seen(film->read, film->seen, every_check);
    const Accuracy body = test::accuracy_of(by_body, film->truth);
    const Accuracy order = test::accuracy_of(by_order, film->truth);
    const auto trunk = trunk_of(by_body, film->script, film->truth);
    totals.body.add(body);
    totals.order.add(order);
    totals.trunk.insert(totals.trunk.end(), trunk.begin(), trunk.end());
    const auto measures = test::measure_errors(by_order, film->truth, *film->knowledge.height_cm);
    totals.measures.insert(totals.measures.end(), measures.begin(), measures.end());
    if (options.brief) return;
    fmt::print("\n{} ({})\n", path.filename().string(),
               film->knowledge.rule_set ? film->knowledge.rule_set->id : "no rule set");
    print(body);
    for (const std::string& fault : body.faults) fmt::print("    by the body: {}\n", fault);
    fmt::print("  with the call order: {} of {} holds and pauses, {} of {} labels\n", order.stills_right, order.stills,
               order.labels, order.holds);
    for (const std::string& fault : order.faults) fmt::print("    with the order: {}\n", fault);
    print_holds(trunk);
    for (const auto& m : measures)
        fmt::print("    {:6.2f} {:22} {:18} true {:6.1f} found {:6.1f}\n", m.start_s, m.pose, m.item, m.truth, m.found);
}

}  // namespace

int main(int argc, char** argv) {
    const Options options = options_from(argc, argv);
    Totals totals;
    for (const auto& film : options.films) {
        measure(film, options, totals);
        std::fflush(stdout);
    }
    fmt::print("\nAll {} films, by the body alone\n", options.films.size());
    print(totals.body);
    fmt::print("With the call order\n  holds and pauses: {} of {} right, {} invented\n  pose labels: {} of {} right\n",
               totals.order.stills_right, totals.order.stills, totals.order.invented, totals.order.labels,
               totals.order.holds);
    print_measures(totals.measures);
    print_trunk_summary(totals.trunk);
}
