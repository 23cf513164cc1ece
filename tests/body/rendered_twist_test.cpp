#include <doctest/doctest.h>

#include <cmath>

#include "body/surface_motion.hpp"
#include "film.hpp"
#include "media/frame_index.hpp"
#include "models.hpp"
#include "temporary_folder.hpp"
#include "truth.hpp"

using namespace quarterturn;
using namespace quarterturn::body;

namespace {

sample::Script twisting_and_swaying() {
    const auto script = sample::parse_script(R"({"format": "quarterturn.script", "version": 1, "seed": 7, "steps": [
        {"do": "stand", "hold_s": 0.3},
        {"do": "pose", "pose": "quarter_front", "hold_s": 4,
         "disturb": [{"kind": "twist", "deg": 6, "hz": 0.5}, {"kind": "sway", "cm": 1.5, "hz": 0.35}]}]})");
    REQUIRE(script);
    return *script;
}

}  // namespace

TEST_CASE("a drawn film shows its planted twist") {
    const sample::Script script = twisting_and_swaying();
    const sample::Truth truth = sample::true_of(script);
    const test::TemporaryFolder folder;
    const auto film = folder.path() / "twist.mp4";
    REQUIRE(sample::render(script, film));
    const auto index = media::build_index(film);
    REQUIRE(index);
    LandmarkSettings settings;
    settings.tracker.masks = true;
    settings.observe = [](std::size_t) { return std::make_unique<TorsoRecord>(); };
    auto clip = clip_landmarks(film, *index, full_models(), settings);
    REQUIRE(clip);
    const auto all = take_torso_pictures(clip->parts);
    const auto& hold = truth.segments.back();
    std::vector<TorsoPicture> pictures;
    for (const auto& picture : all) {
        const double t = seconds_between(index->pictures.front().pts, picture.pts, index->time_base);
        if (t > hold.start_s + 0.2 && t < hold.start_s + 4) pictures.push_back(picture);
    }
    REQUIRE(pictures.size() > 45);
    const KeptPosture posture{pictures, 0,     std::abs(pictures[0].left_shoulder.x - pictures[0].right_shoulder.x),
                              0,        false, {}};
    const auto chest = chest_motion(posture), pelvis = pelvis_motion(posture);
    double found_mean = 0, true_mean = 0, squares = 0;
    std::vector<double> found, expected;
    for (std::size_t i = 0; i < pictures.size(); ++i) {
        REQUIRE(chest.pictures[i].turn_deg);
        REQUIRE(pelvis.pictures[i].turn_deg);
        const auto rank = *index->rank_nearest(pictures[i].pts);
        found.push_back(*chest.pictures[i].turn_deg - *pelvis.pictures[i].turn_deg);
        expected.push_back(truth.pictures[rank].shoulder_yaw_deg - truth.pictures[rank].pelvis_yaw_deg);
        found_mean += found.back() / static_cast<double>(pictures.size());
        true_mean += expected.back() / static_cast<double>(pictures.size());
    }
    for (std::size_t i = 0; i < found.size(); ++i)
        squares += std::pow(found[i] - found_mean - expected[i] + true_mean, 2);
    CHECK(std::sqrt(squares / static_cast<double>(found.size())) < 1.5);
}
