#include "rules/placing.hpp"

#include <algorithm>
#include <numeric>

namespace quarterturn::rules {

Result<int> place_total(std::vector<int> places, int dropped) {
    if (std::any_of(places.begin(), places.end(), [](int place) { return place < 1; }))
        return Error{ErrorCode::bad_input, "A place is 1 or higher."};
    if (dropped < 0 || places.size() <= 2 * static_cast<std::size_t>(dropped))
        return Error{ErrorCode::bad_input, "The panel is too small to drop that many places at each end."};
    std::sort(places.begin(), places.end());
    return std::accumulate(places.begin() + dropped, places.end() - dropped, 0);
}

}  // namespace quarterturn::rules
