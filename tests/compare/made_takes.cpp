#include "made_takes.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "../posing/seen_landmarks.hpp"
#include "posing/analyse_landmarks.hpp"

namespace quarterturn::test {

sample::Script shipped_script(const std::string& name) {
    auto script = sample::load_script(std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips" / "scripts" /
                                      (name + ".json"));
    REQUIRE(script);
    return *script;
}

MadeTake made_take(const sample::Script& script, std::uint32_t seed, bool unnoticed) {
    MadeTake made{script, sample::true_of(script), {}};
    SeeingErrors errors;
    errors.seed = seed;
    const body::LandmarkSeries series = seen_landmarks(made.script, made.truth, errors);
    body::ClipFacts facts = facts_of(made.script, made.truth);
    if (unnoticed) facts.mirrored = false;
    posing::AnalyseSettings settings;
    settings.height_cm = 100 * (script.body.height_m + script.body.heels_m);
    auto found = posing::analyse_landmarks({facts, series, {}, {}, {}}, {}, settings);
    made.take.name = script.name + ".mp4";
    made.take.course = compare::shown_course(series, found.analysis.clip);
    made.take.analysis = std::make_shared<const posing::Analysis>(std::move(found.analysis));
    return made;
}

std::array<body::Point, body::landmark_count> true_points(const MadeTake& made, double t_s) {
    const sample::TruePicture* nearest = &made.truth.pictures.front();
    for (const auto& picture : made.truth.pictures)
        if (std::abs(picture.t_s - t_s) < std::abs(nearest->t_s - t_s)) nearest = &picture;
    std::array<body::Point, body::landmark_count> out;
    for (std::size_t i = 0; i < out.size(); ++i) {
        out[i] = {nearest->points[i].x_px, nearest->points[i].y_px};
        // A mirrored film's truth is mirrored too; a take shows it mirrored back.
        if (made.script.camera.mirrored) out[i].x = made.script.film.width - out[i].x;
    }
    return out;
}

}  // namespace quarterturn::test
