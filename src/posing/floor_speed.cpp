#include "posing/floor_speed.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::posing {
namespace {

constexpr double rows_to_focal = 1.24;   // 1 / (2 tan 22 degrees)
constexpr double steadied_over_s = 0.4;  // to either side
constexpr double speed_over_s = 0.25;    // to either side

template <class Item, class Get>
double mean_near(const std::vector<Item>& items, std::size_t at, double reach_s, Get get) {
    double sum = get(items[at]);
    int count = 1;
    for (std::size_t k = at; k-- > 0 && items[at].t_s - items[k].t_s <= reach_s; ++count) sum += get(items[k]);
    for (std::size_t k = at + 1; k < items.size() && items[k].t_s - items[at].t_s <= reach_s; ++count)
        sum += get(items[k++]);
    return sum / count;
}

struct Seen {
    double t_s, x, distance;
};

double speed_at(const std::vector<FloorPlace>& places, std::size_t at) {
    std::size_t from = at, to = at;
    while (from > 0 && places[at].t_s - places[from - 1].t_s <= speed_over_s) --from;
    while (to + 1 < places.size() && places[to + 1].t_s - places[at].t_s <= speed_over_s) ++to;
    const double lasted = places[to].t_s - places[from].t_s;
    if (lasted <= 0) return 0;
    return std::hypot(places[to].x - places[from].x, places[to].z - places[from].z) / lasted;
}

struct Pace {
    Stretch bounds;
    double fastest = 0;
};

std::vector<Pace> paces_in(const std::vector<FloorPlace>& places, const Stretch& gap, const WalkSettings& settings) {
    std::vector<Pace> paces;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double t = places[i].t_s;
        if (t < gap.start_s || t > gap.end_s) continue;
        const double speed = speed_at(places, i);
        if (speed < settings.slow_speed) continue;
        if (paces.empty() || t - paces.back().bounds.end_s > settings.joins_within_s) paces.push_back({{t, t}, 0});
        paces.back().bounds.end_s = t;
        paces.back().fastest = std::max(paces.back().fastest, speed);
    }
    return paces;
}

/// Usual time from one foot's step to the other's; absent with fewer than two steps in turn.
std::optional<double> usual_gap(std::span<const FootSwing> steps) {
    std::vector<double> gaps;
    for (std::size_t i = 1; i < steps.size(); ++i)
        if (steps[i].foot != steps[i - 1].foot) gaps.push_back(steps[i].middle_s - steps[i - 1].middle_s);
    if (gaps.empty()) return std::nullopt;
    const auto half = gaps.begin() + static_cast<std::ptrdiff_t>(gaps.size() / 2);
    std::nth_element(gaps.begin(), half, gaps.end());
    return *half;
}

constexpr double off_pace = 0.2;  ///< a step before the first or after the last that is further off the usual time

/// On the way to the phone or from it all steps look short: there the steps of a turn before or after the walk go as
/// far as its own, but not at its pace.
std::vector<FootSwing> without_turns(std::vector<FootSwing> steps) {
    constexpr std::size_t fewest = 4;
    constexpr double nearly_longest = 0.8;
    double longest = 0;
    for (const FootSwing& swing : steps) longest = std::max(longest, swing.way);
    const auto strange = [&](const FootSwing& end, const FootSwing& a, const FootSwing& b) {
        const std::optional<double> gap = usual_gap(steps);
        const bool off = a.foot == b.foot || !gap || std::abs(b.middle_s - a.middle_s - *gap) > off_pace * *gap;
        return off && end.way < nearly_longest * longest;
    };
    while (steps.size() >= fewest && strange(steps.front(), steps[0], steps[1])) steps.erase(steps.begin());
    while (steps.size() >= fewest && strange(steps.back(), steps[steps.size() - 2], steps.back())) steps.pop_back();
    return steps;
}

/// Swings of the walk: with their middle in it and as far, nearly, as its longest (the first and the last go half). The
/// body starts later than the foot that steps off and stops before the last one lands: a step before or after that
/// follows in turn, as far and at the same pace, belongs to it too.
std::vector<FootSwing> steps_of(std::span<const FootSwing> swings, const Stretch& walk) {
    constexpr double share_of_longest = 0.36;
    constexpr double reach_s = 0.1;
    double longest = 0;
    const auto inside = [&](const FootSwing& swing) {
        return swing.middle_s >= walk.start_s - reach_s && swing.middle_s <= walk.end_s + reach_s;
    };
    for (const FootSwing& swing : swings)
        if (inside(swing)) longest = std::max(longest, swing.way);
    const auto far = [&](const FootSwing& swing) { return swing.way >= share_of_longest * longest; };
    std::size_t first = swings.size(), last = 0;
    for (std::size_t i = 0; i < swings.size(); ++i) {
        if (!inside(swings[i]) || !far(swings[i])) continue;
        first = std::min(first, i);
        last = i;
    }
    if (first == swings.size()) return {};
    const std::optional<double> gap = usual_gap(swings.subspan(first, last + 1 - first));
    const auto follows = [&](const FootSwing& a, const FootSwing& b) {
        return gap && a.foot != b.foot && std::abs(b.middle_s - a.middle_s - *gap) <= off_pace * *gap;
    };
    while (first > 0 && far(swings[first - 1]) && follows(swings[first - 1], swings[first])) --first;
    while (last + 1 < swings.size() && far(swings[last + 1]) && follows(swings[last], swings[last + 1])) ++last;
    std::vector<FootSwing> steps(swings.begin() + static_cast<std::ptrdiff_t>(first),
                                 swings.begin() + static_cast<std::ptrdiff_t>(last + 1));
    std::erase_if(steps, [&](const FootSwing& swing) { return !far(swing); });
    return without_turns(std::move(steps));
}

bool in_turn(const std::vector<FootSwing>& steps) {
    for (std::size_t i = 1; i < steps.size(); ++i)
        if (steps[i].foot != steps[i - 1].foot) return true;
    return false;
}

double net_way(const std::vector<FloorPlace>& places, const Stretch& stretch) {
    const FloorPlace *first = nullptr, *last = nullptr;
    for (const FloorPlace& place : places) {
        if (place.t_s < stretch.start_s || place.t_s > stretch.end_s) continue;
        if (first == nullptr) first = &place;
        last = &place;
    }
    return first == nullptr ? 0 : std::hypot(last->x - first->x, last->z - first->z);
}

/// Where the feet are out of the picture for a part, that end stays as the pace has it.
Stretch from_step_to_step(const Stretch& pace, const std::vector<FootSwing>& steps, const Stretch& gap) {
    constexpr double reach_s = 0.9;
    Stretch out = pace;
    if (!steps.empty() && std::abs(steps.front().lift_s - pace.start_s) < reach_s) out.start_s = steps.front().lift_s;
    if (!steps.empty() && std::abs(steps.back().land_s - pace.end_s) < reach_s) out.end_s = steps.back().land_s;
    return {std::max(gap.start_s, out.start_s), std::min(gap.end_s, out.end_s)};
}

}  // namespace

std::vector<FloorPlace> floor_places(const body::BodyCourse& course) {
    if (course.height_px <= 0) return {};
    const double focal = rows_to_focal * std::max(course.width, course.height);
    std::vector<Seen> seen;
    for (const body::CourseFrame& frame : course.frames) {
        if (!frame.present) continue;
        const auto hips = body::middle(frame[body::Joint::left_hip], frame[body::Joint::right_hip]);
        seen.push_back({frame.t_s, (hips.x - course.width / 2.0) / frame.height_px, focal / frame.height_px});
    }
    const double usual = focal / course.height_px;
    std::vector<FloorPlace> out;
    for (std::size_t i = 0; i < seen.size(); ++i)
        out.push_back({seen[i].t_s, mean_near(seen, i, steadied_over_s, [](const Seen& s) { return s.x; }),
                       usual - mean_near(seen, i, steadied_over_s, [](const Seen& s) { return s.distance; })});
    return out;
}

std::vector<Stretch> walks_in(const std::vector<FloorPlace>& places, std::span<const FootSwing> swings,
                              const Stretch& gap, const WalkSettings& settings) {
    std::vector<Stretch> walks;
    for (const Pace& pace : paces_in(places, gap, settings)) {
        const std::vector<FootSwing> steps = steps_of(swings, pace.bounds);
        const bool far =
            pace.fastest >= settings.walking_speed && path_length(places, pace.bounds) >= settings.least_way;
        const bool stepped = in_turn(steps) && net_way(places, pace.bounds) >= settings.step_way;
        if (pace.bounds.duration_s() < 0.4 || (!far && !stepped)) continue;
        const Stretch walk = from_step_to_step(pace.bounds, steps, gap);
        if (walk.duration_s() >= 0.4) walks.push_back(walk);
    }
    return walks;
}

double path_length(const std::vector<FloorPlace>& places, const Stretch& stretch) {
    double sum = 0;
    for (std::size_t i = 1; i < places.size(); ++i) {
        if (places[i - 1].t_s < stretch.start_s || places[i].t_s > stretch.end_s) continue;
        sum += std::hypot(places[i].x - places[i - 1].x, places[i].z - places[i - 1].z);
    }
    return sum;
}

}  // namespace quarterturn::posing
