#include "app/thinned.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace quarterturn::app {

std::vector<ScreenSpot> thinned(const std::vector<ScreenSpot>& line) {
    std::vector<ScreenSpot> out;
    const auto lower = [](const ScreenSpot& a, const ScreenSpot& b) { return a.y < b.y; };
    for (auto start = line.begin(); start != line.end();) {
        const float column = std::floor(start->x);
        const auto end = std::find_if(start, line.end(), [&](const ScreenSpot& at) { return at.x >= column + 1; });
        const auto [low, high] = std::minmax_element(start, end, lower);
        std::array kept{start, low, high, end - 1};
        std::sort(kept.begin(), kept.end());
        const auto kept_end = std::unique(kept.begin(), kept.end());
        for (auto at = kept.begin(); at != kept_end; ++at) out.push_back(**at);
        start = end;
    }
    return out;
}

}  // namespace quarterturn::app
