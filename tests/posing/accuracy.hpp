#pragma once
/// An analysis from landmarks against what is true of the routine.
#include <string>
#include <vector>

#include "posing/analysis.hpp"
#include "truth.hpp"

namespace quarterturn::test {

struct Accuracy {
    int stills = 0;                                          ///< true holds and pauses of at least a second
    int stills_right = 0;                                    ///< found, and hold told from pause
    int invented = 0;                                        ///< holds or pauses in which nothing was kept
    int holds = 0, labels = 0;                               ///< true holds found; with the right pose
    int labels_wrong = 0;                                    ///< with another pose (the rest has none)
    std::vector<double> length_errors_s, facing_errors_deg;  ///< of the holds, without sign
    std::vector<double> start_errors_s, end_errors_s;        ///< of the holds, found less true
    std::vector<double> turn_errors_deg;
    std::vector<double> cadence_errors, step_errors;  ///< of the stage walks
    std::vector<double> transition_step_errors;
    std::vector<std::string> faults;  ///< plain lines

    void add(const Accuracy& other);
};

[[nodiscard]] Accuracy accuracy_of(const posing::Analysis& analysis, const sample::Truth& truth);
/// The share, in 0..1, of values at or below.
[[nodiscard]] double percentile(std::vector<double> values, double share);

}  // namespace quarterturn::test
