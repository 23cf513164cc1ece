#include "scene.hpp"

#include <doctest/doctest.h>

#include <array>

namespace quarterturn::body {
namespace {

std::array<float, static_cast<std::size_t>(mask_side) * mask_side> blank_mask{};

}  // namespace

Person person_at(double x, double side, double score) {
    return {Region{{x, scene_side / 2.0}, side, 0}, score};
}

Result<std::vector<Person>> SceneReader::find(const PictureView&) {
    ++finds;
    std::vector<Person> people = scene_(now_s);
    if (upright_finds)
        for (Person& person : people) person.region.angle_rad = 0;
    return people;
}

Result<Reading> SceneReader::read(const PictureView&, const Region& region, bool with_mask) {
    ++reads;
    if (with_mask) ++masks;
    Reading reading;
    for (const Person& person : scene_(now_s)) {
        if (unlikeness(person.region, region) > 0.5) continue;
        for (Landmark& landmark : reading.body.landmarks) {
            landmark = {static_cast<float>(person.region.centre.x), static_cast<float>(person.region.centre.y), 1, 1};
        }
        reading.confidence = 1;
        reading.next = person.region;
        if (reads_as_given) reading.next->angle_rad = region.angle_rad;
        if (with_mask) reading.mask = blank_mask;
        break;
    }
    return reading;
}

std::vector<SceneStep> follow(SceneReader& reader, double from_s, double to_s, TrackerSettings settings,
                              std::optional<AthletePath> athlete) {
    const media::Image picture{scene_side, scene_side, 1, std::vector<std::uint8_t>(scene_side * scene_side)};
    const PictureView view{picture};
    Tracker tracker{reader, settings, std::move(athlete)};
    std::vector<SceneStep> steps;
    for (int i = 0; from_s + i / 15.0 < to_s; ++i) {
        reader.now_s = from_s + i / 15.0;
        auto tracked = tracker.step(view, reader.now_s);
        REQUIRE(tracked);
        steps.push_back({reader.now_s, std::move(tracked).value()});
    }
    return steps;
}

}  // namespace quarterturn::body
