#pragma once
/// Which of several people is the athlete: the largest, most central, longest seen.
#include <optional>
#include <span>
#include <vector>

#include "body/person_detector.hpp"

namespace quarterturn::body {

/// Everybody the detector saw in one picture.
struct Sighting {
    double t_s = 0;
    std::vector<Person> people;
};

/// Where the athlete was at some times; between them and beyond the ends the nearest in time counts.
struct AthletePath {
    struct Stop {
        double t_s = 0;
        Region region;
    };
    std::vector<Stop> stops;  ///< by time

    [[nodiscard]] std::optional<Region> at(double t_s) const;
};

/// Where a person showed the athlete.
struct AthleteClick {
    double t_s = 0;
    Point place;  ///< somewhere on her body, pixels of the upright picture
};

/// How much a person looks like the one the film is about: the share of the picture's shorter side that the body takes,
/// less towards the left and right edges.
[[nodiscard]] double prominence(const Person& person, double picture_width, double picture_height);

/// How unlike two regions are: distance of their middles in sides, plus the logarithm of the ratio of their sides.
[[nodiscard]] double unlikeness(const Region& a, const Region& b);

/// The person to follow: the one most like `expected` if one is near it, else the most prominent. Nobody: nullopt.
[[nodiscard]] std::optional<Person> choose_person(std::span<const Person> people, std::optional<Region> expected,
                                                  double picture_width, double picture_height);

/// Links sightings over the whole clip into paths and gives the path with the greatest prominence added up over time;
/// with a click the path of whoever was there then. nullopt when at most one person was ever seen at a time, so that
/// there is nothing to choose, and when nobody was seen where the click is.
[[nodiscard]] std::optional<AthletePath> athlete_path(std::span<const Sighting> sightings, double picture_width,
                                                      double picture_height,
                                                      const std::optional<AthleteClick>& click = std::nullopt);

}  // namespace quarterturn::body
