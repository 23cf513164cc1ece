#include "stillness.hpp"

#include <algorithm>

namespace quarterturn::sample {
namespace {

constexpr double rate_hz = 120;
constexpr double movement = 0.08;        ///< body heights per second
constexpr double other_posture = 0.03;   ///< body heights
constexpr double other_place = 0.12;     ///< body heights; no sway over planted feet goes so far, a walk does
constexpr double other_facing_deg = 20;  ///< more than any pose allows its trunk to wander
constexpr double shortest_hold_s = 1.0;
constexpr double longest_return_s = 3.0;  ///< a movement that has not come back by then is no wobble
constexpr std::size_t joints = 12;

using Joints = std::array<Vec, joints>;

Joints main_joints(const Skeleton& s) {
    return {s.shoulder[0], s.shoulder[1], s.elbow[0], s.elbow[1], s.wrist[0], s.wrist[1],
            s.hip[0],      s.hip[1],      s.knee[0],  s.knee[1],  s.ankle[0], s.ankle[1]};
}

struct Course {
    std::vector<Joints> joints;  ///< smoothed
    std::vector<double> facing_deg;
    double height = 1;
};

Course course_of(const Timeline& timeline) {
    Course raw;
    raw.height = timeline.bones().height;
    const auto count = static_cast<std::size_t>(timeline.duration_s() * rate_hz) + 1;
    for (std::size_t i = 0; i < count; ++i) {
        const Skeleton s = timeline.at(static_cast<double>(i) / rate_hz);
        raw.joints.push_back(main_joints(s));
        raw.facing_deg.push_back(degrees(line_yaw(s.hip[0], s.hip[1])));
    }
    Course out = raw;
    constexpr int half = 12;  // a running mean of 25 samples at 120 Hz: 0.2 s
    const int last = static_cast<int>(count) - 1;
    for (int i = 0; i <= last; ++i)
        for (std::size_t j = 0; j < joints; ++j) {
            Vec sum;
            const int from = std::max(0, i - half), to = std::min(last, i + half);
            for (int k = from; k <= to; ++k) sum = sum + raw.joints[static_cast<std::size_t>(k)][j];
            out.joints[static_cast<std::size_t>(i)][j] = (1.0 / (to - from + 1)) * sum;
        }
    return out;
}

double fastest(const Course& course, std::size_t i) {
    const std::size_t from = i == 0 ? 0 : i - 1, to = std::min(i + 1, course.joints.size() - 1);
    double most = 0;
    for (std::size_t j = 0; j < joints; ++j)
        most = std::max(most, length(course.joints[to][j] - course.joints[from][j]));
    return most * rate_hz / static_cast<double>(to - from) / course.height;
}

struct Quiet {
    std::size_t from, to;  ///< samples, inclusive
    [[nodiscard]] double seconds() const { return static_cast<double>(to - from) / rate_hz; }
};

std::vector<Quiet> quiet_stretches(const Course& course) {
    std::vector<Quiet> out;
    for (std::size_t i = 0; i < course.joints.size(); ++i) {
        if (fastest(course, i) > movement) continue;
        if (!out.empty() && out.back().to + 1 == i)
            out.back().to = i;
        else
            out.push_back({i, i});
    }
    return out;
}

/// Mean posture of up to a third of a second at one end of a stretch.
Joints posture_at_end(const Course& course, const Quiet& quiet, bool at_start) {
    const std::size_t many = std::min<std::size_t>(quiet.to - quiet.from + 1, 40);
    Joints sum{};
    for (std::size_t k = 0; k < many; ++k) {
        const Joints& sample = course.joints[at_start ? quiet.from + k : quiet.to - k];
        for (std::size_t j = 0; j < joints; ++j) sum[j] = sum[j] + (1.0 / static_cast<double>(many)) * sample[j];
    }
    return sum;
}

bool same_posture(const Joints& a, const Joints& b, double height) {
    Vec common;
    for (std::size_t j = 0; j < joints; ++j) common = common + (1.0 / joints) * (b[j] - a[j]);
    if (length(common) > other_place * height) return false;
    for (std::size_t j = 0; j < joints; ++j)
        if (length(b[j] - a[j] - common) > other_posture * height) return false;
    return true;
}

/// The postures passed in a quiet stretch, ten a second: the slow part of a swing is in no hurry to show its far end.
void keep_postures(const Course& course, const Quiet& quiet, std::vector<Joints>& kept) {
    constexpr std::size_t every = 12;
    for (std::size_t i = quiet.from; i < quiet.to; i += every) kept.push_back(course.joints[i]);
    kept.push_back(posture_at_end(course, quiet, false));
}

/// The last stretch that still belongs to the hold which begins with `first`: a posture of the hold, once left, is met
/// again within a few seconds, again and again, and finally kept.
std::size_t last_of_hold(const Course& course, const std::vector<Quiet>& all, std::size_t first) {
    std::vector<Joints> kept;
    keep_postures(course, all[first], kept);
    const auto as_before = [&](const Joints& now) {
        return std::any_of(kept.begin(), kept.end(),
                           [&](const Joints& k) { return same_posture(k, now, course.height); });
    };
    std::size_t last = first, next = first + 1, met = all[first].to;
    const double facing = course.facing_deg[all[first].to];
    for (std::size_t i = met + 1; i < course.joints.size(); ++i) {
        if (static_cast<double>(i - met) / rate_hz > longest_return_s) break;
        if (std::abs(std::remainder(course.facing_deg[i] - facing, 360)) > other_facing_deg) break;
        if (as_before(course.joints[i])) met = i;
        if (next == all.size() || i != all[next].from) continue;
        if (as_before(posture_at_end(course, all[next], true))) {
            last = next;
            keep_postures(course, all[next], kept);
        } else if (all[next].seconds() >= shortest_hold_s) {
            break;
        }
        ++next;
    }
    return last;
}

}  // namespace

std::vector<Kept> kept_postures(const Timeline& timeline) {
    const Course course = course_of(timeline);
    const std::vector<Quiet> quiet = quiet_stretches(course);
    std::vector<Kept> out;
    for (std::size_t first = 0; first < quiet.size();) {
        const std::size_t last = last_of_hold(course, quiet, first);
        out.push_back(
            {static_cast<double>(quiet[first].from) / rate_hz, static_cast<double>(quiet[last].to) / rate_hz});
        first = last + 1;
    }
    return out;
}

}  // namespace quarterturn::sample
