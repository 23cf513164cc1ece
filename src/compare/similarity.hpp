#pragma once
/// Scale, turn and shift that bring one set of points nearest to another: Umeyama, IEEE PAMI 13:376 (1991).
#include <array>
#include <optional>
#include <span>
#include <vector>

#include "body/region.hpp"

namespace quarterturn::compare {

using body::Point;

/// Pixels of one picture to pixels of another. Where `mirrored`, the first picture is mirrored about its own middle
/// before: x becomes mirror_width - x.
struct Similarity {
    double scale = 1;
    double turn_rad = 0;  ///< clockwise as seen on a screen (y points down)
    double shift_x = 0, shift_y = 0;
    bool mirrored = false;
    double mirror_width = 0;

    [[nodiscard]] Point apply(Point p) const;
    /// {a, b, c, d, e, f}: x' = a x + b y + c, y' = d x + e y + f.
    [[nodiscard]] std::array<double, 6> matrix() const;
};

/// The one of least mean squared distance from `from` to `to`; never a reflection.
/// @param weights  as long as the points, >= 0; empty: all the same
/// @return nullopt with fewer than two points that differ
[[nodiscard]] std::optional<Similarity> fit_similarity(std::span<const Point> from, std::span<const Point> to,
                                                       std::span<const double> weights = {});

/// Weighted mean of the squared distances that are left.
[[nodiscard]] double mean_squared_residual(const Similarity& transform, std::span<const Point> from,
                                           std::span<const Point> to, std::span<const double> weights = {});

struct RobustFit {
    Similarity transform;
    std::optional<std::size_t> left_out;  ///< the one point that did not go with the others
};

/// The same, not misled by one bad point: each point is left out in turn, and stays out when without it the others fit
/// several times better and it lies further than `bad_px` from where they put it.
/// @return nullopt with fewer than two points; with fewer than four nothing can be called bad
[[nodiscard]] std::optional<RobustFit> fit_robustly(std::span<const Point> from, std::span<const Point> to,
                                                    std::span<const double> weights, double bad_px);

}  // namespace quarterturn::compare
