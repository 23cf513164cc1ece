#pragma once
/// Which earlier session to compare with.
#include <cstddef>
#include <string>
#include <vector>

namespace quarterturn::compare {

struct Occasion {
    std::string division;            ///< rule set id
    int days_out = 0;                ///< to its own season's show
    std::vector<std::string> poses;  ///< held in it, each once; empty: not measured yet
};

struct Match {
    std::size_t candidate = 0;  ///< rank in the list given
    bool same_division = false;
    int days_apart = 0;            ///< difference of the days out
    std::size_t poses_shared = 0;  ///< of the poses held now
};

/// Best first: the same division before others; then the fewest weeks between the days out, where every quarter of the
/// poses held now that is missing weighs like a week. Of equals the one given first.
[[nodiscard]] std::vector<Match> rank_matches(const Occasion& now, const std::vector<Occasion>& candidates);

}  // namespace quarterturn::compare
