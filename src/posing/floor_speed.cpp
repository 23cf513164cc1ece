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

std::vector<Stretch> walks_in(const std::vector<FloorPlace>& places, const Stretch& gap, const WalkSettings& settings) {
    std::vector<Stretch> walks;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double t = places[i].t_s;
        if (t < gap.start_s || t > gap.end_s || speed_at(places, i) < settings.walking_speed) continue;
        if (!walks.empty() && t - walks.back().end_s <= settings.joins_within_s)
            walks.back().end_s = t;
        else
            walks.push_back({t, t});
    }
    std::erase_if(walks, [&](const Stretch& walk) {
        return walk.duration_s() < 0.4 || path_length(places, walk) < settings.least_way;
    });
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
