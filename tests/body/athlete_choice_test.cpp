#include "body/athlete_choice.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "scene.hpp"

using namespace quarterturn::body;

namespace {

std::vector<Sighting> sightings(double from_s, double to_s, double every_s, const Scene& scene) {
    std::vector<Sighting> all;
    for (int i = 0; from_s + i * every_s < to_s; ++i)
        all.push_back({from_s + i * every_s, scene(from_s + i * every_s)});
    return all;
}

}  // namespace

TEST_CASE("one person at a time leaves nothing to choose") {
    CHECK_FALSE(athlete_path(sightings(0, 40, 4, [](double) { return std::vector{person_at(500, 600)}; }), 1000, 1000));
    CHECK_FALSE(athlete_path({}, 1000, 1000));
}

TEST_CASE("the one who is there longest is the athlete, not the larger one who leaves") {
    // Whoever sets up the phone is large and central for the first 6 s of 60.
    const auto path = athlete_path(sightings(0, 60, 2,
                                             [](double t_s) {
                                                 std::vector<Person> people{person_at(400, 450)};
                                                 if (t_s < 6) people.push_back(person_at(560, 900));
                                                 return people;
                                             }),
                                   1000, 1000);
    REQUIRE(path);
    CHECK(path->stops.size() == 30);
    CHECK(path->at(0)->centre.x == 400);
    CHECK(path->at(100)->centre.x == 400);
}

TEST_CASE("a path follows somebody who moves between looks") {
    const auto path =
        athlete_path(sightings(0, 20, 2,
                               [](double t_s) {
                                   return std::vector{person_at(300 + 20 * t_s, 600), person_at(950, 300)};
                               }),
                     1000, 1000);
    REQUIRE(path);
    for (const auto& stop : path->stops) CHECK(stop.region.centre.x == doctest::Approx(300 + 20 * stop.t_s));
}

TEST_CASE("dense looks while somebody was lost do not make her stay longer") {
    auto looks = sightings(0, 2, 1.0 / 15, [](double) {
        return std::vector{person_at(600, 600), person_at(300, 450)};
    });
    const auto later = sightings(4, 40, 4, [](double) { return std::vector{person_at(300, 450)}; });
    looks.insert(looks.end(), later.begin(), later.end());
    const auto path = athlete_path(looks, 1000, 1000);
    REQUIRE(path);
    CHECK(path->at(0)->centre.x == 300);
}

TEST_CASE("the expected person is chosen before the more prominent one, but only near the place") {
    const std::vector<Person> people{person_at(250, 400), person_at(600, 700)};
    CHECK(choose_person(people, std::nullopt, 1000, 1000)->region.centre.x == 600);
    CHECK(choose_person(people, person_at(270, 400).region, 1000, 1000)->region.centre.x == 250);
    CHECK(choose_person(people, person_at(900, 100).region, 1000, 1000)->region.centre.x == 600);
    CHECK_FALSE(choose_person({}, person_at(270, 400).region, 1000, 1000));
}

TEST_CASE("a click decides whose path it is, also between two looks and when she is not the most prominent") {
    // Small and at the side, walking to the right, beside somebody large in the middle.
    const auto looks = sightings(0, 20, 4, [](double t_s) {
        return std::vector{person_at(500, 700), person_at(100 + 10 * t_s, 300)};
    });
    CHECK(athlete_path(looks, 1000, 1000)->at(0)->centre.x == 500);
    const Point on_her{170, person_at(170, 300).region.centre.y};
    const auto path = athlete_path(looks, 1000, 1000, AthleteClick{6, on_her});
    REQUIRE(path);
    CHECK(path->at(0)->centre.x == 100);
    CHECK(path->at(16)->centre.x == 260);
    CHECK_FALSE(athlete_path(looks, 1000, 1000, AthleteClick{6, {950, 100}}));
    CHECK_FALSE(athlete_path(looks, 1000, 1000, AthleteClick{40, on_her}));
}
