#include "body/athlete_choice.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace quarterturn::body {
namespace {

// Within this the same person has hardly moved; people side by side differ by half a side or more.
constexpr double near_expected = 0.6;
// Between looks somebody may walk across the picture, but not change size suddenly.
constexpr double most_linked = 1.2;
// Somebody unseen for longer starts a new path.
constexpr double longest_gap_s = 12;
constexpr double longest_share_s = 4;

struct Path {
    AthletePath stops;
    double weight = 0;
};

/// The path whose last stop is nearest to `person` and not yet continued in this picture.
Path* nearest_path(std::vector<Path>& paths, const std::vector<bool>& taken, const Person& person, double t_s) {
    Path* best = nullptr;
    double least = most_linked;
    for (std::size_t i = 0; i < taken.size(); ++i) {
        const AthletePath::Stop& last = paths[i].stops.stops.back();
        const double difference = unlikeness(last.region, person.region);
        if (taken[i] || t_s - last.t_s > longest_gap_s || difference >= least) continue;
        least = difference;
        best = &paths[i];
    }
    return best;
}

/// Looks are up to a few seconds apart; somebody unseen for longer may be anywhere.
constexpr double near_click_s = 6;
// Shares of the region's side: the body fills the middle of its square, and she may have moved since the look.
constexpr double near_click = 0.45;

/// How far a click is from a path, in sides of its region; far when the path is elsewhere in time.
double distance_from(const AthleteClick& click, const AthletePath& path) {
    const auto later = std::lower_bound(path.stops.begin(), path.stops.end(), click.t_s,
                                        [](const AthletePath::Stop& stop, double t_s) { return stop.t_s < t_s; });
    const AthletePath::Stop& after = later == path.stops.end() ? path.stops.back() : *later;
    const AthletePath::Stop& before = later == path.stops.begin() ? path.stops.front() : *(later - 1);
    const double nearest_s = std::min(std::abs(after.t_s - click.t_s), std::abs(before.t_s - click.t_s));
    if (nearest_s > near_click_s) return std::numeric_limits<double>::infinity();
    const double gap = after.t_s - before.t_s;
    const double share = gap > 0 ? std::clamp((click.t_s - before.t_s) / gap, 0.0, 1.0) : 0;
    const double x = before.region.centre.x + share * (after.region.centre.x - before.region.centre.x);
    const double y = before.region.centre.y + share * (after.region.centre.y - before.region.centre.y);
    return std::hypot(click.place.x - x, click.place.y - y) / before.region.side;
}

std::optional<AthletePath> clicked_path(const std::vector<Path>& paths, const AthleteClick& click) {
    const Path* best = nullptr;
    double least = near_click;
    for (const Path& path : paths) {
        const double distance = distance_from(click, path.stops);
        if (distance >= least) continue;
        least = distance;
        best = &path;
    }
    return best != nullptr ? std::optional{best->stops} : std::nullopt;
}

}  // namespace

std::optional<Region> AthletePath::at(double t_s) const {
    if (stops.empty()) return std::nullopt;
    const auto nearer = [t_s](const Stop& a, const Stop& b) { return std::abs(a.t_s - t_s) < std::abs(b.t_s - t_s); };
    return std::min_element(stops.begin(), stops.end(), nearer)->region;
}

double prominence(const Person& person, double picture_width, double picture_height) {
    const double size = std::min(person.region.side / std::min(picture_width, picture_height), 2.0);
    const double off_centre = std::min(std::abs(person.region.centre.x / picture_width - 0.5) * 2, 1.0);
    return size * (1 - 0.5 * off_centre) * person.score;
}

double unlikeness(const Region& a, const Region& b) {
    const double side = std::max(a.side, b.side);
    const double distance = std::hypot(a.centre.x - b.centre.x, a.centre.y - b.centre.y) / side;
    return distance + std::abs(std::log(a.side / b.side));
}

std::optional<Person> choose_person(std::span<const Person> people, std::optional<Region> expected,
                                    double picture_width, double picture_height) {
    std::optional<Person> best;
    double least = near_expected;
    for (const Person& person : people) {
        if (!expected || unlikeness(person.region, *expected) >= least) continue;
        least = unlikeness(person.region, *expected);
        best = person;
    }
    if (best) return best;
    double most = 0;
    for (const Person& person : people) {
        const double value = prominence(person, picture_width, picture_height);
        if (value <= most) continue;
        most = value;
        best = person;
    }
    return best;
}

std::optional<AthletePath> athlete_path(std::span<const Sighting> sightings, double picture_width,
                                        double picture_height, const std::optional<AthleteClick>& click) {
    std::vector<Path> paths;
    bool several = false;
    double before_s = sightings.empty() ? 0 : sightings.front().t_s - longest_share_s;
    for (const Sighting& sighting : sightings) {
        several = several || sighting.people.size() > 1;
        // Looks are denser while somebody is lost; each counts for the time since the one before.
        const double share_s = std::min(sighting.t_s - before_s, longest_share_s);
        before_s = sighting.t_s;
        std::vector<bool> taken(paths.size(), false);
        for (const Person& person : sighting.people) {
            Path* path = nearest_path(paths, taken, person, sighting.t_s);
            if (path == nullptr) {
                paths.push_back({});
                path = &paths.back();
            } else {
                taken[static_cast<std::size_t>(path - paths.data())] = true;
            }
            path->stops.stops.push_back({sighting.t_s, person.region});
            path->weight += share_s * prominence(person, picture_width, picture_height);
        }
    }
    if (!several || paths.empty()) return std::nullopt;
    if (click) return clicked_path(paths, *click);
    const auto lighter = [](const Path& a, const Path& b) { return a.weight < b.weight; };
    return std::max_element(paths.begin(), paths.end(), lighter)->stops;
}

}  // namespace quarterturn::body
