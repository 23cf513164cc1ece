// The whole way from landmarks to the analysis, on what the network would see of the routines made for tuning: exact
// truth from the generator, errors as measured on drawn films. tests/posing/seen_landmarks.hpp says which.
#include <doctest/doctest.h>

#include "accuracy.hpp"
#include "posing/analyse_landmarks.hpp"
#include "rules/rule_sets.hpp"
#include "sample_scripts.hpp"
#include "seen_landmarks.hpp"

using namespace quarterturn;
using namespace quarterturn::test;

namespace {

Accuracy accuracy_in(const std::filesystem::path& path, const std::optional<rules::RuleSet>& rules = {}) {
    const auto script = sample::load_script(path);
    REQUIRE(script);
    const sample::Truth truth = sample::true_of(*script);
    const body::ClipFacts facts = facts_of(*script, truth);
    const body::LandmarkSeries series = seen_landmarks(*script, truth);
    posing::AnalyseSettings settings;
    settings.height_cm = 100 * (script->body.height_m + script->body.heels_m);
    const auto found = posing::analyse_landmarks({facts, series, {}, {}, {}}, rules, settings);
    return accuracy_of(found.analysis, truth);
}

}  // namespace

TEST_CASE("holds, pauses and poses of the tuning routines are right by the body alone") {
    Accuracy all;
    for (const auto& script : scripts_in("tuning")) all.add(accuracy_in(script));
    for (const std::string& fault : all.faults) MESSAGE(fault);
    CHECK(all.stills >= 35);
    CHECK(all.stills_right == all.stills);
    CHECK(all.invented == 0);
    CHECK(all.labels >= 0.95 * all.holds);
    CHECK(percentile(all.length_errors_s, 1) <= 0.25);
    CHECK(percentile(all.facing_errors_deg, 0.5) <= 10);
    CHECK(all.step_errors.size() >= 5);
    CHECK(percentile(all.step_errors, 1) <= 1);
    CHECK(percentile(all.cadence_errors, 1) <= 3);
}
