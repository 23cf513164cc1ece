#include "posing/joints.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::posing {
namespace {

constexpr std::size_t enough_joints = main_joint_count / 2;

double median(std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    if (values.size() % 2 == 1) return *middle;
    return (*middle + *std::max_element(values.begin(), middle)) / 2;
}

/// Weighted sums for the slope of three coordinates over time.
class SlopeFit {
  public:
    void add(double t, double weight, const JointPosition& p) {
        ++count_;
        w_ += weight;
        t_ += weight * t;
        tt_ += weight * t * t;
        const double at[3] = {p.x, p.y, p.z};
        for (std::size_t k = 0; k < 3; ++k) {
            x_[k] += weight * at[k];
            tx_[k] += weight * t * at[k];
        }
    }
    /// Length of the slope; absent when the times do not span anything.
    [[nodiscard]] std::optional<double> speed() const {
        const double spread = tt_ * w_ - t_ * t_;
        if (count_ < 2 || spread <= 1e-12 * w_ * w_) return std::nullopt;
        double square = 0;
        for (std::size_t k = 0; k < 3; ++k) {
            const double slope = (tx_[k] * w_ - t_ * x_[k]) / spread;
            square += slope * slope;
        }
        return std::sqrt(square);
    }

  private:
    int count_ = 0;
    double w_ = 0, t_ = 0, tt_ = 0;
    std::array<double, 3> x_{}, tx_{};
};

std::optional<double> fastest_at(const JointSeries& joints, std::size_t at, std::size_t first, std::size_t last,
                                 double reach_s) {
    std::size_t seen = 0;
    double fastest = 0;
    for (std::size_t joint = 0; joint < joint_count; ++joint) {
        if (!joints.postures[at][joint]) continue;
        SlopeFit fit;
        for (std::size_t i = first; i < last; ++i) {
            const double away = joints.t_s[i] - joints.t_s[at];
            const double weight = 1 - std::abs(away) / reach_s;
            if (weight > 0 && joints.postures[i][joint]) fit.add(away, weight, *joints.postures[i][joint]);
        }
        const std::optional<double> speed = fit.speed();
        if (!speed) continue;
        ++seen;
        fastest = std::max(fastest, *speed);
    }
    return seen >= enough_joints ? std::optional(fastest) : std::nullopt;
}

std::pair<std::size_t, std::size_t> samples_in(const JointSeries& joints, const Stretch& stretch) {
    const auto begin = joints.t_s.begin();
    const auto first = std::lower_bound(begin, joints.t_s.end(), stretch.start_s);
    const auto last = std::upper_bound(first, joints.t_s.end(), stretch.end_s);
    if (first != last) return {static_cast<std::size_t>(first - begin), static_cast<std::size_t>(last - begin)};
    const double middle = (stretch.start_s + stretch.end_s) / 2;
    auto nearest = std::lower_bound(begin, joints.t_s.end(), middle);
    if (nearest == joints.t_s.end() || (nearest != begin && middle - *(nearest - 1) < *nearest - middle)) --nearest;
    const auto at = static_cast<std::size_t>(nearest - begin);
    return {at, at + 1};
}

/// Mean direction of the facings in the stretch.
std::optional<double> facing_in(const JointSeries& joints, const Stretch& stretch) {
    if (joints.facing_deg.empty()) return std::nullopt;
    const auto [first, last] = samples_in(joints, stretch);
    constexpr double radians = 3.14159265358979323846 / 180;
    double x = 0;
    double y = 0;
    for (std::size_t i = first; i < last; ++i) {
        if (!joints.facing_deg[i]) continue;
        x += std::cos(*joints.facing_deg[i] * radians);
        y += std::sin(*joints.facing_deg[i] * radians);
    }
    if (x == 0 && y == 0) return std::nullopt;
    return std::atan2(y, x) / radians;
}

}  // namespace

SpeedSeries fastest_joint_speed(const JointSeries& joints, double smoothing_s) {
    SpeedSeries out{joints.t_s, std::vector<std::optional<double>>(joints.t_s.size())};
    std::size_t first = 0;
    std::size_t last = 0;
    for (std::size_t at = 0; at < joints.t_s.size(); ++at) {
        // Where pictures are further apart than the window, the neighbours are all there is to take a slope from.
        double reach = smoothing_s;
        if (at > 0) reach = std::max(reach, 1.01 * (joints.t_s[at] - joints.t_s[at - 1]));
        while (joints.t_s[first] <= joints.t_s[at] - reach) ++first;
        while (first > 0 && joints.t_s[first - 1] > joints.t_s[at] - reach) --first;
        last = std::max(last, at + 1);
        while (last < joints.t_s.size() && joints.t_s[last] < joints.t_s[at] + reach) ++last;
        out.speed[at] = fastest_at(joints, at, first, last, reach);
    }
    return out;
}

std::optional<double> posture_distance(const Posture& before, const Posture& after) {
    std::vector<JointPosition> moved;
    for (std::size_t joint = 0; joint < joint_count; ++joint) {
        if (!before[joint] || !after[joint]) continue;
        const JointPosition& a = *before[joint];
        const JointPosition& b = *after[joint];
        moved.push_back({b.x - a.x, b.y - a.y, b.z - a.z});
    }
    if (moved.size() < enough_joints) return std::nullopt;
    JointPosition common;
    for (const JointPosition& p : moved) {
        const auto count = static_cast<double>(moved.size());
        common = {common.x + p.x / count, common.y + p.y / count, common.z + p.z / count};
    }
    double furthest = 0;
    for (const JointPosition& p : moved)
        furthest = std::max(furthest, std::hypot(p.x - common.x, p.y - common.y, p.z - common.z));
    return furthest;
}

Posture posture_in(const JointSeries& joints, const Stretch& stretch) {
    Posture posture;
    if (joints.t_s.empty()) return posture;
    const auto [first, last] = samples_in(joints, stretch);
    for (std::size_t joint = 0; joint < joint_count; ++joint) {
        std::vector<double> x, y, z;
        for (std::size_t i = first; i < last; ++i) {
            if (!joints.postures[i][joint]) continue;
            x.push_back(joints.postures[i][joint]->x);
            y.push_back(joints.postures[i][joint]->y);
            z.push_back(joints.postures[i][joint]->z);
        }
        if (!x.empty()) posture[joint] = JointPosition{median(x), median(y), median(z)};
    }
    return posture;
}

std::vector<StillStretch> find_still_stretches(const JointSeries& joints, const HoldSettings& settings,
                                               double smoothing_s) {
    const PostureDistance distance = [&](const Stretch& before, const Stretch& after) -> std::optional<double> {
        const std::optional<double> a = facing_in(joints, before);
        const std::optional<double> b = facing_in(joints, after);
        const std::optional<double> moved = posture_distance(posture_in(joints, before), posture_in(joints, after));
        const bool turned = a && b && std::abs(std::remainder(*b - *a, 360.0)) > settings.facing_change_deg;
        if (!moved || !turned) return moved;
        return std::max(*moved, 2 * std::max(settings.posture_change, settings.excursion));
    };
    return find_still_stretches(fastest_joint_speed(joints, smoothing_s), distance, settings);
}

}  // namespace quarterturn::posing
