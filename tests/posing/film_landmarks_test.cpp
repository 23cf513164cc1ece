// The whole way from shipped films, through the network, to the analysis, against what is true of them.
#include <doctest/doctest.h>

#include <filesystem>
#include <map>

#include "accuracy.hpp"
#include "body/clip_landmarks.hpp"
#include "body/model_files.hpp"
#include "media/frame_index.hpp"
#include "posing/analyse_landmarks.hpp"
#include "rules/rule_sets.hpp"
#include "sample_scripts.hpp"
#include "seen_landmarks.hpp"
#include "true_measures.hpp"

using namespace quarterturn;
using namespace quarterturn::test;

namespace {

struct Measured {
    Accuracy accuracy;
    std::vector<MeasureError> measures;
};

Measured measured(const std::string& name, const std::string& rules_id) {
    const auto folder = std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips";
    const auto models = body::load_models(body::ModelSize::full);
    // A missing model is a failure: third_party/setup.sh fetches it.
    REQUIRE(models);
    const auto index = media::build_index(folder / (name + ".mp4"));
    REQUIRE(index);
    const auto landmarks = body::clip_landmarks(folder / (name + ".mp4"), *index, *models, {});
    REQUIRE(landmarks);
    const auto script = sample::load_script(folder / "scripts" / (name + ".json"));
    REQUIRE(script);
    const sample::Truth truth = sample::true_of(*script);
    const body::ClipFacts facts = facts_of(*script, truth);
    const posing::LandmarkInput input{facts, landmarks->series, {}, {}, {}};
    const auto rules = rules::bundled_rule_set(rules_id);
    REQUIRE(rules);
    posing::AnalyseSettings settings;
    settings.height_cm = 100 * (script->body.height_m + script->body.heels_m);
    const auto by_body = posing::analyse_landmarks(input, {}, settings);
    const auto checked = posing::analyse_landmarks(input, with_every_check(*rules), settings);
    return {accuracy_of(by_body.analysis, truth), measure_errors(checked.analysis, truth, *settings.height_cm)};
}

}  // namespace

// What these four show: hands behind the head, where the network errs most, either side, every way of walking with
// three steps, and the poses that the seasons' films have not. All films: tests/bench/accuracy_bench.
TEST_CASE("shipped films are measured by the body alone within the limits") {
    Accuracy all;
    std::map<std::string, std::vector<double>> off;
    for (const auto& [name, rules] :
         {std::pair{"earlier_season/2025-03-08_quarter_turns", "womens_bikini"},
          std::pair{"more/turned_with_calls", "womens_physique"},
          std::pair{"more/remaining_poses", "mens_classic_physique"}, std::pair{"more/stage_walk", "womens_bikini"}}) {
        const Measured film = measured(name, rules);
        all.add(film.accuracy);
        for (const MeasureError& measure : film.measures) off[measure.item].push_back(std::abs(measure.error()));
    }
    for (const std::string& fault : all.faults) MESSAGE(fault);
    CHECK(all.stills_right == all.stills);
    CHECK(all.invented == 0);
    CHECK(all.labels == all.holds);
    CHECK(percentile(all.length_errors_s, 1) <= 0.25);
    CHECK(percentile(all.facing_errors_deg, 0.5) <= 6);
    CHECK(percentile(all.facing_errors_deg, 1) <= 25);
    CHECK(percentile(all.turn_errors_deg, 0.5) <= 10);
    CHECK(all.step_errors.size() == 4);
    CHECK(percentile(all.step_errors, 1) <= 1);
    CHECK(all.cadence_errors.size() == 4);
    CHECK(percentile(all.cadence_errors, 1) <= 3);
    CHECK(percentile(all.transition_step_errors, 0.9) <= 1);

    // Twice what was found over all shipped films at nine in ten (docs/measurement.md); degrees and cm.
    const std::map<std::string, double> most{{"shoulders_level", 3}, {"elbows_matched", 9}, {"upper_arms_level", 6},
                                             {"heel_distance", 5},   {"hands_matched", 3},  {"left_from_hip", 10},
                                             {"right_from_hip", 10}};
    for (const auto& [item, limit] : most) {
        CAPTURE(item);
        REQUIRE(off[item].size() >= 4);
        CHECK(percentile(off[item], 0.9) <= limit);
    }
}
