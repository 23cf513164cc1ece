#include "posing/sway.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace quarterturn::posing {
namespace {

constexpr double step_hz = 0.01, highest_hz = 3;
constexpr double clear_share = 0.5;

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

}  // namespace

Sway sway_of(std::span<const double> t_s, std::span<const std::optional<double>> sideways, std::size_t fewest) {
    const Samples samples = from_mean(t_s, sideways);
    if (samples.value.size() < fewest) {
        const Measured none{std::nullopt, "the outline of the hips was not found in enough pictures"};
        return {none, none, none};
    }
    double squares = 0;
    for (const double value : samples.value) squares += value * value;
    const auto [least, most] = std::minmax_element(samples.value.begin(), samples.value.end());
    return {
        {std::sqrt(squares / static_cast<double>(samples.value.size())), ""}, {*most - *least, ""}, rhythm_of(samples)};
}

}  // namespace quarterturn::posing
