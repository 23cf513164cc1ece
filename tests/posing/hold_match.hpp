#pragma once
/// Found stretches against true ones.
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "posing/still_stretches.hpp"

namespace quarterturn::test {

struct TrueStill {
    posing::Stretch bounds;
    bool hold = true;  ///< else a pause: standing about, which movement alone cannot tell from a hold
    std::string pose;
};

struct Matched {
    TrueStill truth;
    posing::Stretch found;
    [[nodiscard]] double start_error() const { return found.start_s - truth.bounds.start_s; }
    [[nodiscard]] double end_error() const { return found.end_s - truth.bounds.end_s; }
    [[nodiscard]] double length_error() const { return found.duration_s() - truth.bounds.duration_s(); }
};

struct HoldMatch {
    std::vector<Matched> matched;
    std::vector<TrueStill> missed;  ///< true ones of at least a second without a partner
    std::vector<posing::Stretch> invented;

    /// Largest of an error over the matched holds (pauses aside).
    template <class Error>
    [[nodiscard]] double worst(Error error) const {
        double most = 0;
        for (const Matched& match : matched)
            if (match.truth.hold) most = std::max(most, std::abs((match.*error)()));
        return most;
    }
    [[nodiscard]] bool missed_a_hold() const {
        return std::any_of(missed.begin(), missed.end(), [](const TrueStill& still) { return still.hold; });
    }
};

/// Each true stretch of at least `shortest_s` is paired with the found one that overlaps it longest; a found one serves
/// once.
inline HoldMatch match_holds(const std::vector<posing::Stretch>& found, const std::vector<TrueStill>& truth,
                             double shortest_s = 1.0) {
    HoldMatch match;
    std::vector<bool> used(found.size());
    for (const TrueStill& still : truth) {
        std::optional<std::size_t> best;
        double longest = 0;
        for (std::size_t i = 0; i < found.size(); ++i) {
            const double overlap =
                std::min(found[i].end_s, still.bounds.end_s) - std::max(found[i].start_s, still.bounds.start_s);
            if (overlap <= longest || used[i]) continue;
            longest = overlap;
            best = i;
        }
        const bool counts = still.bounds.duration_s() >= shortest_s;
        // A stretch that is mostly something else is no partner.
        if (!best || longest < 0.5 * still.bounds.duration_s()) {
            if (counts) match.missed.push_back(still);
            continue;
        }
        used[*best] = true;
        if (counts) match.matched.push_back({still, found[*best]});
    }
    for (std::size_t i = 0; i < found.size(); ++i)
        if (!used[i]) match.invented.push_back(found[i]);
    return match;
}

}  // namespace quarterturn::test
