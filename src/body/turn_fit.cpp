#include "body/turn_fit.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>

namespace quarterturn::body {
namespace {

// The outline is known to about half a pixel; a heavier tie turns that into degrees, a lighter one lets the shading of
// smooth skin, which stays where it is, pull the turn towards nothing.
constexpr double tie_weight = 3;
constexpr int rounds = 8;
constexpr double least_scatter_px = 0.05;

enum Unknown { tx, ty, phi, size, psi, unknowns };
using Row = cv::Matx<double, 1, unknowns>;
using Solution = cv::Vec<double, unknowns>;

/// One equation: how far the model misses, and how the miss answers to each unknown.
struct Equation {
    Row slope;
    double missing = 0;
};

Equation across(const SurfaceShift& p, const Solution& now) {
    const double turned = p.nearer * std::sin(now[psi]) + p.x * (std::cos(now[psi]) - 1);
    Equation out{Row::zeros(), p.dx - (now[tx] - now[phi] * p.y + now[size] * p.x + turned)};
    out.slope(tx) = 1;
    out.slope(phi) = -p.y;
    out.slope(size) = p.x;
    out.slope(psi) = p.nearer * std::cos(now[psi]) - p.x * std::sin(now[psi]);
    return out;
}

Equation down(const SurfaceShift& p, const Solution& now) {
    Equation out{Row::zeros(), p.dy - (now[ty] + now[phi] * p.x + now[size] * p.y)};
    out.slope(ty) = 1;
    out.slope(phi) = p.x;
    out.slope(size) = p.y;
    return out;
}

Equation tie(double edge_shift, double edge_y, const Solution& now) {
    Equation out{Row::zeros(), edge_shift - (now[tx] - now[phi] * edge_y)};
    out.slope(tx) = 1;
    out.slope(phi) = -edge_y;
    return out;
}

class Normal {
  public:
    void add(const Equation& equation, double weight) {
        matrix_ += weight * (equation.slope.t() * equation.slope);
        right_ += weight * equation.missing * equation.slope.t();
    }
    [[nodiscard]] std::optional<Solution> step() const {
        Solution out;
        if (!cv::solve(matrix_, right_, out, cv::DECOMP_CHOLESKY)) return std::nullopt;
        return out;
    }

  private:
    cv::Matx<double, unknowns, unknowns> matrix_ = cv::Matx<double, unknowns, unknowns>::zeros();
    cv::Matx<double, unknowns, 1> right_ = cv::Matx<double, unknowns, 1>::zeros();
};

/// 1.345 standard deviations, told by the median (Huber 1964; 95 % efficient for normal errors).
double huber_limit(std::vector<double> misses) {
    const auto middle = misses.begin() + static_cast<std::ptrdiff_t>(misses.size() / 2);
    std::nth_element(misses.begin(), middle, misses.end());
    return 1.345 * std::max(least_scatter_px, 1.4826 * *middle);
}

}  // namespace

std::optional<double> fit_turn(const std::vector<SurfaceShift>& moved, double edge_shift, double edge_y) {
    if (moved.size() < 3) return std::nullopt;
    Solution now;
    now[tx] = edge_shift;
    for (int round = 0; round < rounds; ++round) {
        std::vector<Equation> equations;
        std::vector<double> misses;
        for (const SurfaceShift& point : moved) {
            equations.push_back(across(point, now));
            equations.push_back(down(point, now));
        }
        for (const Equation& equation : equations) misses.push_back(std::abs(equation.missing));
        const double limit = huber_limit(misses);
        Normal normal;
        for (const Equation& equation : equations) {
            const double miss = std::abs(equation.missing);
            normal.add(equation, miss <= limit ? 1 : limit / miss);
        }
        normal.add(tie(edge_shift, edge_y, now), tie_weight);
        const auto step = normal.step();
        if (!step) return std::nullopt;
        now += *step;
    }
    // Further than a trunk turns: the points were not followed rightly.
    if (!std::isfinite(now[psi]) || std::abs(now[psi]) > 1) return std::nullopt;
    return now[psi];
}

}  // namespace quarterturn::body
