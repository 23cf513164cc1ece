#include "posing/call_order.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace quarterturn::posing {
namespace {

/// The alignment as a walk over states: after each hold, the state is how many calls have been reached (0: none yet).
class Alignment {
  public:
    Alignment(std::span<const double> durations, std::span<const std::string> order, const LooksCost& looks,
              const CallOrderCosts& costs)
        : durations_(durations), order_(order), looks_(looks), costs_(costs) {
        std::vector<double> sorted(durations.begin(), durations.end());
        std::sort(sorted.begin(), sorted.end());
        median_ = sorted.empty() ? 0 : sorted[sorted.size() / 2];
    }

    [[nodiscard]] std::size_t holds() const { return durations_.size(); }
    [[nodiscard]] std::size_t states() const { return order_.size() + 1; }

    /// Of hold `hold` being the call `to` - 1, when `from` calls have been reached before it.
    [[nodiscard]] double call_cost(std::size_t hold, std::size_t from, std::size_t to) const {
        return move_cost(from, to) + short_cost(hold) + (looks_ ? looks_(hold, to - 1) : 0);
    }
    [[nodiscard]] double extra_cost(std::size_t hold, std::size_t state) const {
        const double base = state == 0 ? costs_.extra_first : costs_.extra;
        return durations_[hold] < median_ / 2 ? base * costs_.short_extra : base;
    }
    [[nodiscard]] double end_cost(std::size_t state) const {
        return costs_.missing_at_end * static_cast<double>(order_.size() - state);
    }

  private:
    [[nodiscard]] double short_cost(std::size_t hold) const {
        const double half = median_ / 2;
        return durations_[hold] < half ? costs_.short_call * (1 - durations_[hold] / half) : 0;
    }
    [[nodiscard]] double move_cost(std::size_t from, std::size_t to) const {
        if (to == from) return costs_.repeated;
        if (to < from) return costs_.started_again + end_cost(from) + costs_.missing * static_cast<double>(to - 1);
        const auto passed = static_cast<double>(to - from - 1);
        return passed * (from == 0 ? costs_.missing_first : costs_.missing);
    }

    std::span<const double> durations_;
    std::span<const std::string> order_;
    const LooksCost& looks_;
    const CallOrderCosts& costs_;
    double median_ = 0;
};

using Table = std::vector<std::vector<double>>;  ///< [hold][state]

constexpr double never = std::numeric_limits<double>::infinity();

/// Smallest of the costs, or their soft minimum -s ln(sum exp(-c/s)) for softness s > 0.
double least(const std::vector<double>& costs, double softness) {
    const double best = *std::min_element(costs.begin(), costs.end());
    if (softness <= 0 || best == never) return best;
    double sum = 0;
    for (const double cost : costs) sum += std::exp((best - cost) / softness);
    return best - softness * std::log(sum);
}

/// to_go[hold][state]: cost of placing the holds from `hold` on.
Table costs_to_go(const Alignment& alignment, double softness) {
    Table to_go(alignment.holds() + 1, std::vector<double>(alignment.states()));
    for (std::size_t state = 0; state < alignment.states(); ++state) to_go.back()[state] = alignment.end_cost(state);
    std::vector<double> ways(alignment.states());
    for (std::size_t hold = alignment.holds(); hold-- > 0;) {
        for (std::size_t from = 0; from < alignment.states(); ++from) {
            ways[0] = alignment.extra_cost(hold, from) + to_go[hold + 1][from];
            for (std::size_t to = 1; to < alignment.states(); ++to)
                ways[to] = alignment.call_cost(hold, from, to) + to_go[hold + 1][to];
            to_go[hold][from] = least(ways, softness);
        }
    }
    return to_go;
}

/// so_far[hold][state]: cost of the holds before `hold`, ending in the state.
Table costs_so_far(const Alignment& alignment, double softness) {
    Table so_far(alignment.holds() + 1, std::vector<double>(alignment.states(), never));
    so_far[0][0] = 0;
    std::vector<double> ways(alignment.states() + 1);
    for (std::size_t hold = 0; hold < alignment.holds(); ++hold) {
        for (std::size_t to = 0; to < alignment.states(); ++to) {
            for (std::size_t from = 0; from < alignment.states(); ++from)
                ways[from] = to == 0 ? never : so_far[hold][from] + alignment.call_cost(hold, from, to);
            ways.back() = so_far[hold][to] + alignment.extra_cost(hold, to);
            so_far[hold + 1][to] = least(ways, softness);
        }
    }
    return so_far;
}

/// The label of each hold on the cheapest alignment: 0 extra, else call rank + 1. On a tie an earlier call wins.
std::vector<std::size_t> cheapest(const Alignment& alignment) {
    const Table to_go = costs_to_go(alignment, 0);
    std::vector<std::size_t> labels;
    std::size_t state = 0;
    for (std::size_t hold = 0; hold < alignment.holds(); ++hold) {
        std::size_t label = 0;
        double best = never;
        for (std::size_t to = 1; to < alignment.states(); ++to) {
            const double cost = alignment.call_cost(hold, state, to) + to_go[hold + 1][to];
            if (cost < best - 1e-9) {
                best = cost;
                label = to;
            }
        }
        if (alignment.extra_cost(hold, state) + to_go[hold + 1][state] < best - 1e-9) label = 0;
        labels.push_back(label);
        if (label > 0) state = label;
    }
    return labels;
}

class Shares {
  public:
    Shares(const Alignment& alignment, double softness)
        : alignment_(alignment),
          softness_(softness),
          so_far_(costs_so_far(alignment, softness)),
          to_go_(costs_to_go(alignment, softness)) {}

    /// Share of the alignments in which `hold` has a label accepted by `wanted` (0: extra, else call rank + 1).
    template <class Wanted>
    [[nodiscard]] double of(std::size_t hold, Wanted wanted) const {
        double share = 0;
        const double all = to_go_[0][0];
        for (std::size_t from = 0; from < alignment_.states(); ++from) {
            const double before = so_far_[hold][from];
            if (before == never) continue;
            for (std::size_t to = 0; to < alignment_.states(); ++to) {
                if (!wanted(to)) continue;
                const double cost = to == 0 ? alignment_.extra_cost(hold, from) : alignment_.call_cost(hold, from, to);
                share += std::exp((all - before - cost - to_go_[hold + 1][to == 0 ? from : to]) / softness_);
            }
        }
        return std::clamp(share, 0.0, 1.0);
    }

  private:
    const Alignment& alignment_;
    double softness_;
    Table so_far_;
    Table to_go_;
};

}  // namespace

std::vector<CalledHold> align_with_call_order(std::span<const double> durations_s,
                                              std::span<const std::string> call_order, const LooksCost& looks,
                                              const CallOrderCosts& costs) {
    const Alignment alignment(durations_s, call_order, looks, costs);
    const std::vector<std::size_t> labels = cheapest(alignment);
    const Shares shares(alignment, costs.softness);
    std::vector<CalledHold> holds;
    for (std::size_t hold = 0; hold < labels.size(); ++hold) {
        const std::size_t label = labels[hold];
        const auto same_pose = [&](std::size_t other) {
            return label == 0 || other == 0 ? label == other : call_order[other - 1] == call_order[label - 1];
        };
        holds.push_back({label > 0 ? std::optional(label - 1) : std::nullopt, shares.of(hold, same_pose)});
    }
    return holds;
}

}  // namespace quarterturn::posing
