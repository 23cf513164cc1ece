#include "compare/nearest_match.hpp"

#include <algorithm>
#include <cstdlib>

namespace quarterturn::compare {
namespace {

constexpr double weeks_for_all_poses = 4;

double cost_of(const Match& match, const Occasion& now) {
    const double missing =
        now.poses.empty() ? 0 : 1 - static_cast<double>(match.poses_shared) / static_cast<double>(now.poses.size());
    return match.days_apart / 7.0 + weeks_for_all_poses * missing;
}

}  // namespace

std::vector<Match> rank_matches(const Occasion& now, const std::vector<Occasion>& candidates) {
    std::vector<Match> matches;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        const Occasion& other = candidates[i];
        Match match{i, other.division == now.division, std::abs(other.days_out - now.days_out), 0};
        for (const std::string& pose : now.poses)
            match.poses_shared += std::count(other.poses.begin(), other.poses.end(), pose) > 0 ? 1U : 0U;
        matches.push_back(match);
    }
    std::stable_sort(matches.begin(), matches.end(), [&](const Match& a, const Match& b) {
        if (a.same_division != b.same_division) return a.same_division;
        return cost_of(a, now) < cost_of(b, now);
    });
    return matches;
}

}  // namespace quarterturn::compare
