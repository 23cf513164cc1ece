#include "body/hip_edges.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace quarterturn::body {
namespace {

constexpr std::size_t edge_rows = 16, fewest_edges = 4;
constexpr double half_band = 0.15;                        // shoulder widths
constexpr double profile_from = 0.95, profile_to = 1.45;  // shoulders 0, hips 1
constexpr double lost_per_trunk = 0.288 / 0.53;           // share of a sway, a trunk's length below the hips
constexpr std::size_t edges = 2 * edge_rows;

/// Left edges, then right ones; what stands for the movement of one place is always at the same index.
using Edges = std::array<std::optional<double>, edges>;

bool profile(const KeptPosture& posture) {
    return std::abs(std::sin(posture.yaw_deg * std::numbers::pi / 180)) > side_view;
}

struct Row {
    double y = 0;
    double leverage = 1;  ///< how much of the hips' sway it shows
};

Row row_at(const TorsoPicture& picture, const KeptPosture& posture, std::size_t i) {
    const double part = static_cast<double>(i) / static_cast<double>(edge_rows - 1);
    if (!profile(posture)) return {picture.hips().y + half_band * (2 * part - 1) * posture.shoulder_width_px, 1};
    const double share = profile_from + part * (profile_to - profile_from);
    const double top = picture.shoulders().y;
    return {top + share * (picture.hips().y - top), 1 - lost_per_trunk * std::max(0.0, share - 1)};
}

Edges edges_of(const KeptPosture& posture, std::size_t which) {
    const TorsoPicture& picture = posture.pictures[which];
    Edges out;
    for (std::size_t i = 0; i < edge_rows; ++i) {
        const Row row = row_at(picture, posture, i);
        auto left = picture.edges.left_at(row.y), right = picture.edges.right_at(row.y);
        if (!profile(posture)) {
            if (left && right) out[i] = (*left + *right) / 2;
            continue;
        }
        const auto free = [&](const std::optional<double>& x) {
            return x && (posture.forearms.empty() ||
                         !near_arm(posture.forearms[which], {*x, row.y}, arm_half_width * posture.shoulder_width_px));
        };
        if (free(left)) out[i] = *left / row.leverage;
        if (free(right)) out[edge_rows + i] = *right / row.leverage;
    }
    return out;
}

std::optional<double> median_shift(const Edges& before, const Edges& now) {
    std::vector<double> shifts;
    for (std::size_t i = 0; i < edges; ++i)
        if (before[i] && now[i]) shifts.push_back(*now[i] - *before[i]);
    if (shifts.size() < fewest_edges) return std::nullopt;
    const auto middle = shifts.begin() + static_cast<std::ptrdiff_t>(shifts.size() / 2);
    std::nth_element(shifts.begin(), middle, shifts.end());
    return *middle;
}

}  // namespace

bool near_arm(const Forearms& arms, Point place, double reach_px) {
    const auto near = [&](Point a, Point b) {
        const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
        const double along =
            square > 0 ? std::clamp(((place.x - a.x) * dx + (place.y - a.y) * dy) / square, 0.0, 1.0) : 0;
        return std::hypot(place.x - a.x - along * dx, place.y - a.y - along * dy) < reach_px;
    };
    const auto on = [&](const Forearm& arm) { return near(arm.elbow, arm.wrist) || near(arm.wrist, arm.finger); };
    return on(arms.left) || on(arms.right);
}

std::vector<std::optional<double>> hip_shifts(const KeptPosture& posture) {
    const Edges before = edges_of(posture, posture.reference);
    std::vector<std::optional<double>> out;
    for (std::size_t i = 0; i < posture.pictures.size(); ++i) out.push_back(median_shift(before, edges_of(posture, i)));
    return out;
}

}  // namespace quarterturn::body
