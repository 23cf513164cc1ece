// The whole way from shipped films, through the network, to the analysis, against what is true of them.
#include <doctest/doctest.h>

#include <filesystem>

#include "accuracy.hpp"
#include "body/clip_landmarks.hpp"
#include "body/model_files.hpp"
#include "media/frame_index.hpp"
#include "posing/analyse_landmarks.hpp"
#include "sample_scripts.hpp"
#include "seen_landmarks.hpp"

using namespace quarterturn;
using namespace quarterturn::test;

namespace {

Accuracy accuracy_of_film(const std::string& name) {
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
    const auto found = posing::analyse_landmarks({facts, landmarks->series, {}, {}, {}});
    return accuracy_of(found.analysis, truth);
}

}  // namespace

TEST_CASE("quarter turns and mandatory poses of shipped films are measured right by the body alone") {
    Accuracy all;
    for (const char* name : {"earlier_season/2025-03-08_quarter_turns", "earlier_season/2025-05-10_mandatory_poses"})
        all.add(accuracy_of_film(name));
    for (const std::string& fault : all.faults) MESSAGE(fault);
    CHECK(all.stills_right == all.stills);
    CHECK(all.invented == 0);
    CHECK(all.labels == all.holds);
    CHECK(percentile(all.length_errors_s, 1) <= 0.25);
    CHECK(percentile(all.facing_errors_deg, 0.5) <= 10);
}
