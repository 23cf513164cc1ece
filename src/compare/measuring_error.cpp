#include "compare/measuring_error.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace quarterturn::compare {
namespace {

/// Of a difference: what stays when nothing moves, and the part that grows with the larger of both values.
struct MethodError {
    double fixed, share;
};

/// Lengths in % of body height. docs/measurement.md says which films these come from.
std::optional<MethodError> known_error(Measure measure) {
    switch (measure) {
        case Measure::hold_s:
            return MethodError{0.3, 0};
        case Measure::stillness:
            return MethodError{0.003, 0.25};
        case Measure::sway_rms:
            return MethodError{0.06, 0.25};
        case Measure::twist_rms:
            return MethodError{0.9, 0.3};
        case Measure::hand_height_difference:
            return MethodError{1.5, 0};
        case Measure::hands_fidget_rms:
            return MethodError{0.08, 0.3};
        case Measure::hands_settling:
            return MethodError{1.0, 0.5};
        case Measure::facing:
            return MethodError{12, 0};
        case Measure::shoulder_width:
            return MethodError{0.8, 0};
        case Measure::waist_width:  // between the same edges as the hips
        case Measure::hip_width:
            return MethodError{0.65, 0};
        case Measure::score:
            return std::nullopt;
        default:
            return MethodError{9, 0};  // angles of the joints
    }
}

/// -179 and 179 degrees are two apart.
void unwrap(std::map<std::string, std::vector<double>>& by_pose) {
    for (auto& [pose, values] : by_pose)
        for (double& value : values) value = values.front() + std::remainder(value - values.front(), 360.0);
}

double plus_or_zero(const posing::Measured& measured) {
    return std::abs(measured.value.value_or(0));
}

}  // namespace

double student_limit(int freedom) {
    // NIST/SEMATECH handbook of statistical methods, table 1.3.6.7.2; beyond it the expansion about the normal limit
    // (Abramowitz and Stegun 26.7.5).
    constexpr std::array table{12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228};
    if (freedom <= static_cast<int>(table.size())) return table[static_cast<std::size_t>(std::max(freedom, 1) - 1)];
    constexpr double z = 1.959963985;
    const double n = freedom;
    return z + (z * z * z + z) / (4 * n) + (5 * std::pow(z, 5) + 16 * std::pow(z, 3) + 3 * z) / (96 * n * n);
}

Scatters scatter_of(const std::vector<std::pair<std::string, MeasuredHold>>& holds) {
    Scatters out{};
    for (std::size_t m = 0; m < measure_count; ++m) {
        std::map<std::string, std::vector<double>> by_pose;
        for (const auto& [pose, hold] : holds)
            if (!pose.empty() && hold.values[m].value) by_pose[pose].push_back(*hold.values[m].value);
        if (static_cast<Measure>(m) == Measure::facing) unwrap(by_pose);
        double squares = 0;
        for (const auto& [pose, values] : by_pose) {
            double mean = 0;
            for (const double v : values) mean += v / static_cast<double>(values.size());
            for (const double v : values) squares += (v - mean) * (v - mean);
            out[m].freedom += static_cast<int>(values.size()) - 1;
        }
        if (out[m].freedom > 0) out[m].variance = squares / out[m].freedom;
    }
    return out;
}

std::optional<double> method_error(Measure measure, Lengths lengths, const MeasuredHold& now,
                                   const MeasuredHold& before, std::optional<double> height_cm) {
    // What both films of one pose share cancels once they are of one scale.
    if (is_silhouette(measure) && !(now.at_one_scale && before.at_one_scale)) {
        if (!(now.width_error_pct > 0) || !(before.width_error_pct > 0)) return std::nullopt;
        return student_limit(1000) * std::hypot(now.width_error_pct, before.width_error_pct);
    }
    const auto known = known_error(measure);
    if (!known) return std::nullopt;
    const bool is_length = measure_id(measure, Lengths::cm) != measure_id(measure, Lengths::pct);
    const double unit = is_length && lengths == Lengths::cm ? height_cm.value_or(170) / 100 : 1;
    return known->fixed * unit + known->share * std::max(plus_or_zero(now[measure]), plus_or_zero(before[measure]));
}

ErrorLimit error_limit(Measure measure, Lengths lengths, const MeasuredHold& now, const MeasuredHold& before,
                       const Scatter& scatter_now, const Scatter& scatter_before, std::optional<double> height_cm) {
    const auto method = method_error(measure, lengths, now, before, height_cm);
    ErrorLimit out{method, method ? ErrorSource::method : ErrorSource::none};
    const int freedom = scatter_now.freedom + scatter_before.freedom;
    if (freedom < 1) return out;
    // A session without repeats scatters as the other one does.
    const double a = scatter_now.freedom > 0 ? scatter_now.variance : scatter_before.variance;
    const double b = scatter_before.freedom > 0 ? scatter_before.variance : scatter_now.variance;
    const double repeats = student_limit(freedom) * std::sqrt(a + b);
    // Repeats that agree to the last digit say nothing where the method's error is not known.
    if ((method && repeats >= *method) || (!method && repeats > 0)) out = {repeats, ErrorSource::repeats};
    return out;
}

}  // namespace quarterturn::compare
