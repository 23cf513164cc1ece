#include "posing/sway.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/core.hpp>
#include <vector>

namespace quarterturn::posing {
namespace {

constexpr double step_hz = 0.01, highest_hz = 3;
constexpr double clear_share = 0.5;
constexpr double highest_drift_hz = 1;  // quicker swings do not look like drift

struct Samples {
    std::vector<double> t_s, value;  ///< value: from their mean
};

Samples from_mean(std::span<const double> t_s, std::span<const std::optional<double>> values) {
    Samples out;
    double sum = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (!values[i]) continue;
        out.t_s.push_back(t_s[i]);
        out.value.push_back(*values[i]);
        sum += *values[i];
    }
    for (double& value : out.value) value -= sum / static_cast<double>(out.value.size());
    return out;
}

/// Share of the squares that a sine of this frequency explains.
double explained(const Samples& samples, double hz) {
    double cc = 0, ss = 0, cs = 0, cv = 0, sv = 0, vv = 0;
    for (std::size_t i = 0; i < samples.t_s.size(); ++i) {
        const double phase = 2 * std::numbers::pi * hz * samples.t_s[i], v = samples.value[i];
        const double c = std::cos(phase), s = std::sin(phase);
        cc += c * c;
        ss += s * s;
        cs += c * s;
        cv += c * v;
        sv += s * v;
        vv += v * v;
    }
    const double determinant = cc * ss - cs * cs;
    if (determinant < 1e-9 || vv <= 0) return 0;
    return (cv * cv * ss - 2 * cv * sv * cs + sv * sv * cc) / determinant / vv;
}

Measured rhythm_of(const Samples& samples) {
    const double lowest = 2 / (samples.t_s.back() - samples.t_s.front());
    double best_hz = 0, best = 0;
    for (double hz = lowest; hz <= highest_hz; hz += step_hz) {
        const double share = explained(samples, hz);
        if (share <= best) continue;
        best = share;
        best_hz = hz;
    }
    if (best < clear_share) return {std::nullopt, "no single rhythm stands out"};
    return {best_hz, ""};
}

/// Length of the smoothed curve over its time.
double path_speed_of(const Samples& samples) {
    constexpr std::size_t half = 2;
    std::vector<double> smooth;
    for (std::size_t i = half; i + half < samples.value.size(); ++i) {
        double sum = 0;
        for (std::size_t k = i - half; k <= i + half; ++k) sum += samples.value[k];
        smooth.push_back(sum / (2 * half + 1));
    }
    double path = 0;
    for (std::size_t i = 1; i < smooth.size(); ++i) path += std::abs(smooth[i] - smooth[i - 1]);
    return path / (samples.t_s[samples.t_s.size() - 1 - half] - samples.t_s[half]);
}

struct Line {
    double slope = 0, left_over = 0;  ///< squares it does not explain
};

/// Least squares of a line, beside a sine of `hz` where one is given: a swing cut off in its course is no drift.
std::optional<Line> line_through(const Samples& samples, std::optional<double> hz) {
    const int unknowns = hz ? 4 : 2, rows = static_cast<int>(samples.value.size());
    cv::Mat_<double> model(rows, unknowns), values(rows, 1), found;
    for (int i = 0; i < rows; ++i) {
        const double t = samples.t_s[static_cast<std::size_t>(i)] - samples.t_s.front();
        values(i) = samples.value[static_cast<std::size_t>(i)];
        model(i, 0) = 1;
        model(i, 1) = t;
        if (!hz) continue;
        model(i, 2) = std::cos(2 * std::numbers::pi * *hz * t);
        model(i, 3) = std::sin(2 * std::numbers::pi * *hz * t);
    }
    if (!cv::solve(model, values, found, cv::DECOMP_QR)) return std::nullopt;
    const cv::Mat missed = values - model * found;
    return Line{found(1), missed.dot(missed)};
}

double rise_of(const Samples& samples) {
    const double lasted = samples.t_s.back() - samples.t_s.front();
    const auto alone = line_through(samples, std::nullopt);
    if (!alone) return 0;
    Line best = *alone;
    for (double hz = 0.8 / lasted; hz <= highest_drift_hz; hz += 0.1 / lasted)
        if (const auto beside = line_through(samples, hz); beside && beside->left_over < best.left_over) best = *beside;
    return (best.left_over < clear_share * alone->left_over ? best : *alone).slope * lasted;
}

}  // namespace

Measured drift_of(std::span<const double> t_s, std::span<const std::optional<double>> values, std::size_t fewest) {
    const Samples samples = from_mean(t_s, values);
    if (samples.value.size() < fewest) return {std::nullopt, "it is known in too few pictures"};
    return {rise_of(samples), ""};
}

Sway sway_of(std::span<const double> t_s, std::span<const std::optional<double>> sideways, std::size_t fewest) {
    const Samples samples = from_mean(t_s, sideways);
    if (samples.value.size() < fewest) {
        const Measured none{std::nullopt, "the outline of the hips was not found in enough pictures"};
        return {none, none, none, none, none};
    }
    double squares = 0;
    for (const double value : samples.value) squares += value * value;
    const auto [least, most] = std::minmax_element(samples.value.begin(), samples.value.end());
    return {{std::sqrt(squares / static_cast<double>(samples.value.size())), ""},
            {*most - *least, ""},
            rhythm_of(samples),
            Measured{path_speed_of(samples), ""},
            Measured{rise_of(samples), ""}};
}

}  // namespace quarterturn::posing
