#pragma once
/// Which hold is which pose, told by the order in which a division calls its poses.
///
/// Sequence alignment by dynamic programming (the scheme of Needleman and Wunsch 1970): every hold is given a pose or
/// is called extra, at the least total cost. Poses may be missing, repeated, or the whole order started again. How sure
/// a label is, is its share among all alignments, each weighted by exp(-cost / softness).
#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace quarterturn::posing {

/// What departs from "one hold for each call" costs. The defaults are choices of ours, not measured: a practice is
/// rather stopped early than begun in the middle, and somebody rather stands about before the first call than later.
/// The shortfall of a hold is 0 from half the median length on, and grows to 1 towards no length at all.
struct CallOrderCosts {
    double missing = 1.0;         ///< a pose passed over between two others
    double missing_at_end = 0.5;  ///< a pose not reached
    double missing_first = 1.2;   ///< a pose passed over before the first hold that has one
    double repeated = 0.9;        ///< the same pose again
    double started_again = 0.4;   ///< back to an earlier pose, besides what is passed over before and after
    double extra = 1.0;           ///< a hold that is no pose
    double extra_first = 0.6;     ///< the same before the first pose
    double short_extra = 0.6;     ///< factor on the two above for a hold shorter than half the median one
    double short_call = 2.5;      ///< a hold much shorter than the others being a pose: times its shortfall, see below
    double softness = 0.35;       ///< how quickly trust in a worse alignment falls
};

struct CalledHold {
    std::optional<std::size_t> call;  ///< rank in the call order; absent: extra
    double probability = 0;           ///< of this label, 0..1, before any cap
};

/// Cost of hold `hold` being the pose called at rank `call`, from looking at the body: 0 fits, more fits less.
using LooksCost = std::function<double(std::size_t hold, std::size_t call)>;

/// One entry per hold, in order.
/// @param durations_s  length of each hold
/// @param call_order   pose ids; a pose may be called more than once
/// @param looks        what the body says; empty: nothing
[[nodiscard]] std::vector<CalledHold> align_with_call_order(std::span<const double> durations_s,
                                                            std::span<const std::string> call_order,
                                                            const LooksCost& looks = {},
                                                            const CallOrderCosts& costs = {});

}  // namespace quarterturn::posing
