#pragma once
/// Twist and sway of the holds of a drawn film against what is true of it.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "posing/analysis.hpp"
#include "truth.hpp"

namespace quarterturn::bench {

enum class View { front, back, side };
[[nodiscard]] const char* word(View view);

/// One number of one hold, true and found. Curves are compared where both exist, each less its mean there.
struct Compared {
    double true_rms = 0;
    std::optional<double> found_rms;
    std::optional<double> curve_error;  ///< RMS of the difference
    std::string reason;                 ///< why it was not found
};

struct HoldTrunk {
    std::string pose;
    double start_s = 0;
    View view = View::front;
    bool twist_planted = false, sway_planted = false;
    bool turn_planted = false;  ///< the whole trunk: no twist, but the pelvis turns
    Compared twist, sway;
    std::optional<double> twist_absolute;
    double true_twist_absolute = 0;
    std::optional<posing::Widths> widths;
};

/// Holds that were found; signals of the analysis are needed for the curves.
[[nodiscard]] std::vector<HoldTrunk> trunk_of(const posing::Analysis& analysis, const sample::Script& script,
                                              const sample::Truth& truth);

void print_holds(const std::vector<HoldTrunk>& holds);
/// Per view: planted holds measured, errors; what was invented in quiet ones.
void print_trunk_summary(const std::vector<HoldTrunk>& holds);

}  // namespace quarterturn::bench
