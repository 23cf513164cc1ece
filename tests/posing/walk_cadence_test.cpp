// Cadence of walks: from steps of which one is placed wrongly or missing, and through the whole analysis on what a
// network sees that errs more than ours was found to and mixes the feet up as they pass.
#include <doctest/doctest.h>

#include "accuracy.hpp"
#include "posing/analyse_landmarks.hpp"
#include "posing/moving_measures.hpp"
#include "sample_scripts.hpp"
#include "seen_landmarks.hpp"

using namespace quarterturn;
using namespace quarterturn::posing;
using namespace quarterturn::test;

namespace {

/// Steps in turn with their middles at these times.
std::vector<FootSwing> walk_of(const std::vector<double>& middles) {
    std::vector<FootSwing> swings;
    for (std::size_t i = 0; i < middles.size(); ++i)
        swings.push_back(
            {i % 2 == 0 ? Foot::left : Foot::right, middles[i] - 0.22, middles[i] + 0.22, middles[i], 0.01, 0.3});
    return swings;
}

std::optional<double> cadence_of(const std::vector<FootSwing>& swings) {
    LandmarkEvidence seen;
    seen.swings = swings;
    Segment walk;
    walk.kind = SegmentKind::walk;
    walk.end_s = 10;
    measure_walk(walk, seen, {});
    return walk.cadence_per_min.value;
}

Accuracy seen_badly(const std::filesystem::path& path, std::uint32_t seed) {
    const auto script = sample::load_script(path);
    REQUIRE(script);
    const sample::Truth truth = sample::true_of(*script);
    SeeingErrors errors;
    errors.jitter = 0.003;
    errors.feet_mixed = 0.05;
    errors.foot_lost = 0.02;
    errors.seed = seed;
    const auto series = seen_landmarks(*script, truth, errors);
    const auto facts = facts_of(*script, truth);
    return accuracy_of(analyse_landmarks({facts, series, {}, {}, {}}, {}, {}).analysis, truth);
}

}  // namespace

TEST_CASE("steps at an even pace have its cadence") {
    const auto cadence = cadence_of(walk_of({1.0, 1.6, 2.2}));
    REQUIRE(cadence);
    CHECK(*cadence == doctest::Approx(100));
}

TEST_CASE("one step of four that is placed wrongly changes the cadence little") {
    const auto cadence = cadence_of(walk_of({1.07, 1.6, 2.2, 2.8}));
    REQUIRE(cadence);
    CHECK(std::abs(*cadence - 100) < 2.2);  // the mean of the three times would be 104
}

TEST_CASE("a step that was not seen leaves the cadence as it is") {
    std::vector<FootSwing> swings = walk_of({1.0, 1.6, 2.2, 2.8, 3.4, 4.0});
    swings.erase(swings.begin() + 2);
    const auto cadence = cadence_of(swings);
    REQUIRE(cadence);
    CHECK(*cadence == doctest::Approx(100));
}

TEST_CASE("a step of the turn before a walk does not quicken it") {
    const auto cadence = cadence_of(walk_of({0.62, 1.0, 1.6, 2.2, 2.8}));
    REQUIRE(cadence);
    CHECK(*cadence == doctest::Approx(100));
}

TEST_CASE("two steps have no cadence") {
    CHECK_FALSE(cadence_of(walk_of({1.0, 1.6})));
}

TEST_CASE("cadence of stage walks is right though feet are mixed up as they pass") {
    Accuracy all;
    for (const auto& script : scripts_in("tuning")) {
        const std::string name = script.stem().string();
        if (name != "stage_walks" && !name.starts_with("walks_")) continue;
        for (const std::uint32_t seed : {1U, 2U, 3U, 4U}) all.add(seen_badly(script, seed));
    }
    for (const std::string& fault : all.faults) MESSAGE(fault);
    CHECK(all.cadence_errors.size() >= 65);
    CHECK(percentile(all.cadence_errors, 0.5) < 1);
    CHECK(percentile(all.cadence_errors, 0.9) < 3);
}
