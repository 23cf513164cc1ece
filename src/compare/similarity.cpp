#include "compare/similarity.hpp"

#include <cmath>
#include <complex>

namespace quarterturn::compare {
namespace {

using Complex = std::complex<double>;

double weight_of(std::span<const double> weights, std::size_t i) {
    return weights.empty() ? 1 : weights[i];
}

Complex mean_of(std::span<const Point> points, std::span<const double> weights, double total) {
    Complex sum;
    for (std::size_t i = 0; i < points.size(); ++i) sum += weight_of(weights, i) * Complex(points[i].x, points[i].y);
    return sum / total;
}

/// How much better the rest must fit without a point before it is called bad (times the root mean square).
constexpr double clearly_better = 2.5;

struct Trial {
    Similarity transform;
    double rest = 0;    ///< root mean squared distance of the others
    double own_px = 0;  ///< distance of the point left out
};

std::optional<Trial> without(std::size_t left_out, std::span<const Point> from, std::span<const Point> to,
                             std::span<const double> weights) {
    std::vector<double> rest(from.size(), 1);
    for (std::size_t i = 0; i < rest.size(); ++i) rest[i] = i == left_out ? 0 : weight_of(weights, i);
    const auto fitted = fit_similarity(from, to, rest);
    if (!fitted) return std::nullopt;
    const Point put = fitted->apply(from[left_out]);
    return Trial{*fitted, std::sqrt(mean_squared_residual(*fitted, from, to, rest)),
                 std::hypot(put.x - to[left_out].x, put.y - to[left_out].y)};
}

}  // namespace

Point Similarity::apply(Point p) const {
    const auto m = matrix();
    return {m[0] * p.x + m[1] * p.y + m[2], m[3] * p.x + m[4] * p.y + m[5]};
}

std::array<double, 6> Similarity::matrix() const {
    const double c = scale * std::cos(turn_rad), s = scale * std::sin(turn_rad);
    if (!mirrored) return {c, -s, shift_x, s, c, shift_y};
    return {-c, -s, shift_x + c * mirror_width, -s, c, shift_y + s * mirror_width};
}

std::optional<Similarity> fit_similarity(std::span<const Point> from, std::span<const Point> to,
                                         std::span<const double> weights) {
    double total = 0;
    for (std::size_t i = 0; i < from.size(); ++i) total += weight_of(weights, i);
    if (from.size() < 2 || from.size() != to.size() || !(total > 0)) return std::nullopt;
    // In the plane a turn with a scale is one complex factor, and the singular values of the covariance need not be
    // found: the factor that is best without reflection is <from, to> / <from, from> about the means.
    const Complex from_mean = mean_of(from, weights, total), to_mean = mean_of(to, weights, total);
    Complex across;
    double spread = 0, size = 0;
    for (std::size_t i = 0; i < from.size(); ++i) {
        const Complex a = Complex(from[i].x, from[i].y) - from_mean, b = Complex(to[i].x, to[i].y) - to_mean;
        across += weight_of(weights, i) * std::conj(a) * b;
        spread += weight_of(weights, i) * std::norm(a);
        size += weight_of(weights, i) * (from[i].x * from[i].x + from[i].y * from[i].y);
    }
    if (!(spread > 1e-12 * size) || !(spread > 0)) return std::nullopt;
    const Complex factor = across / spread;
    const Complex shift = to_mean - factor * from_mean;
    return Similarity{std::abs(factor), std::arg(factor), shift.real(), shift.imag(), false, 0};
}

double mean_squared_residual(const Similarity& transform, std::span<const Point> from, std::span<const Point> to,
                             std::span<const double> weights) {
    double sum = 0, total = 0;
    for (std::size_t i = 0; i < from.size(); ++i) {
        const Point put = transform.apply(from[i]);
        const double dx = put.x - to[i].x, dy = put.y - to[i].y;
        sum += weight_of(weights, i) * (dx * dx + dy * dy);
        total += weight_of(weights, i);
    }
    return total > 0 ? sum / total : 0;
}

std::optional<RobustFit> fit_robustly(std::span<const Point> from, std::span<const Point> to,
                                      std::span<const double> weights, double bad_px) {
    const auto all = fit_similarity(from, to, weights);
    if (!all) return std::nullopt;
    RobustFit best{*all, std::nullopt};
    if (from.size() < 4) return best;
    double least = std::sqrt(mean_squared_residual(*all, from, to, weights)) / clearly_better;
    for (std::size_t i = 0; i < from.size(); ++i) {
        if (!(weight_of(weights, i) > 0)) continue;
        const auto trial = without(i, from, to, weights);
        if (!trial || trial->own_px < bad_px || trial->rest >= least) continue;
        least = trial->rest;
        best = {trial->transform, i};
    }
    return best;
}

}  // namespace quarterturn::compare
