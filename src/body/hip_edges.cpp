#include "body/hip_edges.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

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

double median(std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

using Movements = std::vector<std::optional<double>>;  ///< by picture

/// What all edges move in common, found by turns with each edge's own place and with how far it strays from the rest:
/// by medians in two directions (Tukey 1977), edges that stray counting less. An arm on its way past an edge makes it
/// jump.
class CommonMovement {
  public:
    /// @param mask_pixel  side of one, in pixels of the picture
    CommonMovement(std::vector<Edges> all, double mask_pixel) : all_(std::move(all)), mask_pixel_(mask_pixel) {
        // Two beginnings, as medians may end where most of a moment's edges are an arm's.
        settle(followed());
        const Movements from_followed = movement_;
        const double misfit = misfit_now();
        settle(Movements(all_.size(), 0.0));
        if (misfit < misfit_now()) movement_ = from_followed;
    }
    [[nodiscard]] const Movements& movement() const { return movement_; }

  private:
    static constexpr int rounds = 6;
    // Of a pixel of the mask: no edge is known better, and one that was seen once is not known at all.
    static constexpr double believed_share = 0.15, at_first_share = 1;

    void settle(Movements start) {
        movement_ = std::move(start);
        for (int round = 0; round < rounds; ++round) {
            for (std::size_t edge = 0; edge < edges; ++edge) place(edge);
            for (std::size_t i = 0; i < all_.size(); ++i) movement_[i] = common_at(i);
        }
    }
    /// How much the edges stray, large strays hardly more than small ones (Cauchy's measure).
    [[nodiscard]] double misfit_now() const {
        double sum = 0;
        for (std::size_t i = 0; i < all_.size(); ++i) {
            for (std::size_t edge = 0; edge < edges; ++edge) {
                if (!all_[i][edge] || !movement_[i]) continue;
                const double stray = (*all_[i][edge] - places_[edge] - *movement_[i]) / (believed_share * mask_pixel_);
                sum += std::log1p(stray * stray);
            }
        }
        return sum;
    }

    /// From each picture to the next.
    [[nodiscard]] Movements followed() const {
        Movements out;
        double now = 0;
        for (std::size_t i = 0; i < all_.size(); ++i) {
            std::vector<double> moved;
            for (std::size_t edge = 0; i > 0 && edge < edges; ++edge)
                if (all_[i][edge] && all_[i - 1][edge]) moved.push_back(*all_[i][edge] - *all_[i - 1][edge]);
            if (moved.size() >= fewest_edges) now += median(moved);
            out.emplace_back(now);
        }
        return out;
    }

    void place(std::size_t edge) {
        std::vector<double> beyond;
        for (std::size_t i = 0; i < all_.size(); ++i)
            if (all_[i][edge] && movement_[i]) beyond.push_back(*all_[i][edge] - *movement_[i]);
        if (beyond.empty()) return;
        places_[edge] = median(beyond);
        double squares = at_first_share * at_first_share * mask_pixel_ * mask_pixel_;
        for (const double x : beyond) squares += (x - places_[edge]) * (x - places_[edge]);
        const double believed = believed_share * mask_pixel_;
        weights_[edge] = 1 / (believed * believed + squares / static_cast<double>(beyond.size()));
    }

    [[nodiscard]] std::optional<double> common_at(std::size_t i) const {
        std::vector<std::pair<double, double>> seen;  // movement, weight
        double half = 0;
        for (std::size_t edge = 0; edge < edges; ++edge) {
            if (!all_[i][edge]) continue;
            seen.emplace_back(*all_[i][edge] - places_[edge], weights_[edge]);
            half += weights_[edge] / 2;
        }
        if (seen.size() < fewest_edges) return std::nullopt;
        std::sort(seen.begin(), seen.end());
        for (const auto& [movement, weight] : seen)
            if ((half -= weight) <= 0) return movement;
        return seen.back().first;
    }

    std::vector<Edges> all_;  ///< by picture
    double mask_pixel_;
    std::array<double, edges> places_{}, weights_{};
    Movements movement_;
};

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
    std::vector<Edges> all;
    for (std::size_t i = 0; i < posture.pictures.size(); ++i) all.push_back(edges_of(posture, i));
    if (all.empty()) return {};
    std::vector<std::optional<double>> out =
        CommonMovement{std::move(all), posture.pictures[posture.reference].edges.spacing}.movement();
    const double before = out[posture.reference].value_or(0);
    for (auto& shift : out)
        if (shift) *shift -= before;
    return out;
}

}  // namespace quarterturn::body
