#include "posing/hands_speed.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace quarterturn::posing {
namespace {

using body::CourseFrame;
using body::CoursePoint;
using enum body::Joint;

double median(std::vector<double>& values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

using Pair = std::array<body::Joint, 2>;

std::optional<double> usual_speed(const body::BodyCourse& course, const Stretch& stretch, const Pair& joint,
                                  const Pair& carried_by) {
    constexpr double reach_s = 0.14;  // a tremor of five a second is mostly averaged out
    std::array<std::vector<double>, 2> speeds;
    const auto& frames = course.frames;
    std::size_t before = 0, after = 0;
    for (std::size_t at = 0; at < frames.size(); ++at) {
        while (frames[before].t_s < frames[at].t_s - reach_s) ++before;
        while (after + 1 < frames.size() && frames[after + 1].t_s <= frames[at].t_s + reach_s) ++after;
        const CourseFrame &a = frames[before], &b = frames[after];
        if (!a.present || !b.present || a.t_s < stretch.start_s || b.t_s > stretch.end_s || after <= before) continue;
        const CoursePoint base_a = body::middle(a[carried_by[0]], a[carried_by[1]]);
        const CoursePoint base_b = body::middle(b[carried_by[0]], b[carried_by[1]]);
        for (std::size_t side = 0; side < 2; ++side) {
            const CoursePoint &from = a[joint[side]], &to = b[joint[side]];
            const double way = std::hypot(to.x - base_b.x - from.x + base_a.x, to.y - base_b.y - from.y + base_a.y);
            speeds[side].push_back(way / course.height_px / (b.t_s - a.t_s));
        }
    }
    if (speeds[0].empty()) return std::nullopt;
    return std::max(median(speeds[0]), median(speeds[1]));
}

}  // namespace

std::optional<double> hands_speed(const body::BodyCourse& course, const Stretch& stretch) {
    return usual_speed(course, stretch, {left_wrist, right_wrist}, {left_ear, right_ear});
}

std::optional<double> elbows_speed(const body::BodyCourse& course, const Stretch& stretch) {
    return usual_speed(course, stretch, {left_elbow, right_elbow}, {left_shoulder, right_shoulder});
}

}  // namespace quarterturn::posing
