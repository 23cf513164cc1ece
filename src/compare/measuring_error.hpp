#pragma once
/// How large a difference must be to be more than measuring error.
#include <optional>
#include <vector>

#include "compare/measures.hpp"

namespace quarterturn::compare {

enum class ErrorSource { none, repeats, method };

/// How far repeats of one pose in one session scatter, pooled over the poses of that session that were held at least
/// twice: the variance about each pose's own mean. An athlete's repeats differ by more than the measuring does, and
/// that is what a difference between seasons has to exceed.
struct Scatter {
    double variance = 0;
    int freedom = 0;  ///< repeats beyond the first of each pose; 0: no repeats
};
using Scatters = std::array<Scatter, measure_count>;

/// @param holds  (pose with its side, measures) of every hold of a session
[[nodiscard]] Scatters scatter_of(const std::vector<std::pair<std::string, MeasuredHold>>& holds);

struct ErrorLimit {
    std::optional<double> value;
    ErrorSource source = ErrorSource::none;
};

/// The limit that 95 % of differences between two single holds stay below when nothing but chance is at work:
/// t(0.975) sqrt(s_now^2 + s_before^2) from repeats, where either session has any; at least what the method alone is
/// known to err by (method_error), because two repeats may agree by luck.
[[nodiscard]] ErrorLimit error_limit(Measure measure, Lengths lengths, const MeasuredHold& now,
                                     const MeasuredHold& before, const Scatter& scatter_now,
                                     const Scatter& scatter_before, std::optional<double> height_cm);

/// What the method errs by in a difference of two holds with these values: the table in docs/measurement.md, section
/// "Differences". Absent where nothing is known (the score). Widths that were not brought to one scale bring their own.
[[nodiscard]] std::optional<double> method_error(Measure measure, Lengths lengths, const MeasuredHold& now,
                                                 const MeasuredHold& before, std::optional<double> height_cm);

/// 97.5 % point of Student's distribution. @param freedom >= 1
[[nodiscard]] double student_limit(int freedom);

}  // namespace quarterturn::compare
