#include "body/torso_edges.hpp"

#include <algorithm>
#include <cmath>

#include "body/landmarks.hpp"

namespace quarterturn::body {
namespace {

// The rows looked at reach above the shoulders and below the hips (down the thighs) by these shares of the distance
// between them.
constexpr double above_share = 0.2, below_share = 0.75;

/// The mask as a field over the picture.
class Field {
  public:
    Field(std::span<const float> mask, const Region& region)
        : mask_(mask),
          region_(region),
          across_(std::cos(region.angle_rad) * mask_side / region.side),
          down_(std::sin(region.angle_rad) * mask_side / region.side) {}

    [[nodiscard]] double pixel() const { return region_.side / mask_side; }
    [[nodiscard]] std::optional<double> at(Point place) const {
        // Region::from_picture, asked for thousands of times.
        const double dx = place.x - region_.centre.x, dy = place.y - region_.centre.y;
        const double x = middle + dx * across_ + dy * down_, y = middle - dx * down_ + dy * across_;
        if (x < 0 || y < 0 || x >= mask_side - 1 || y >= mask_side - 1) return std::nullopt;
        const int column = static_cast<int>(x), row = static_cast<int>(y);
        const double u = x - column, v = y - row;
        const auto value = [&](int c, int r) {
            return static_cast<double>(mask_[static_cast<std::size_t>(r) * mask_side + static_cast<std::size_t>(c)]);
        };
        return (value(column, row) * (1 - u) + value(column + 1, row) * u) * (1 - v) +
               (value(column, row + 1) * (1 - u) + value(column + 1, row + 1) * u) * v;
    }

  private:
    static constexpr double middle = 0.5 * mask_side - 0.5;
    std::span<const float> mask_;
    const Region& region_;
    double across_, down_;
};

/// Walks from `from` in steps of `step` until the field falls below zero.
std::optional<float> crossing(const Field& field, Point from, double step, double reach) {
    std::optional<double> before = field.at(from);
    if (!before || *before <= 0) return std::nullopt;
    for (double gone = std::abs(step); gone <= reach; gone += std::abs(step)) {
        const double x = from.x + std::copysign(gone, step);
        const auto here = field.at({x, from.y});
        if (!here) return std::nullopt;
        if (*here <= 0) return static_cast<float>(x - step * (-*here) / (*before - *here));
        before = here;
    }
    return std::nullopt;
}

std::optional<double> between(const TorsoEdges& edges, double y, std::optional<float> TorsoEdges::Row::*side) {
    const double row = (y - edges.first_y) / edges.spacing;
    if (!(row >= 0) || row > static_cast<double>(edges.rows.size()) - 1) return std::nullopt;
    const auto above = static_cast<std::size_t>(row);
    const std::size_t below = std::min(above + 1, edges.rows.size() - 1);
    const auto& first = edges.rows[above].*side;
    const auto& second = edges.rows[below].*side;
    if (!first || !second) return std::nullopt;
    const double share = row - static_cast<double>(above);
    return static_cast<double>(*first) * (1 - share) + static_cast<double>(*second) * share;
}

}  // namespace

std::optional<double> TorsoEdges::left_at(double y) const {
    return between(*this, y, &Row::left);
}

std::optional<double> TorsoEdges::right_at(double y) const {
    return between(*this, y, &Row::right);
}

std::optional<double> TorsoEdges::middle_at(double y) const {
    const auto left = left_at(y), right = right_at(y);
    if (!left || !right) return std::nullopt;
    return (*left + *right) / 2;
}

TorsoEdges torso_edges(std::span<const float> mask, const Region& region, Point neck, Point crotch, double reach) {
    TorsoEdges out;
    const double length = crotch.y - neck.y;
    if (mask.size() != static_cast<std::size_t>(mask_side) * mask_side || length <= 0 || region.side <= 0) return out;
    const Field field{mask, region};
    out.spacing = field.pixel();
    out.first_y = neck.y - above_share * length;
    const auto count = static_cast<std::size_t>((1 + above_share + below_share) * length / out.spacing) + 1;
    for (std::size_t i = 0; i < count; ++i) {
        const double y = out.first_y + static_cast<double>(i) * out.spacing;
        const double share = std::clamp((y - neck.y) / length, 0.0, 1.0);
        const Point from{neck.x + share * (crotch.x - neck.x), y};
        out.rows.push_back({crossing(field, from, -out.spacing, reach), crossing(field, from, out.spacing, reach)});
    }
    return out;
}

}  // namespace quarterturn::body
