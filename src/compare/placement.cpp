#include "compare/placement.hpp"

#include <algorithm>

namespace quarterturn::compare {
namespace {

struct Placed {
    double start_s, end_s;
    const Similarity* at;
};

std::vector<Placed> placed_holds(const Comparison& comparison, std::size_t now_take, std::size_t before_take) {
    std::vector<Placed> out;
    for (const PairComparison& made : comparison.pairs) {
        if (!made.alignment || made.pair.now.take != now_take || made.pair.before.take != before_take) continue;
        const posing::Segment& hold = hold_at(comparison.now, made.pair.now);
        out.push_back({hold.start_s, hold.end_s, &made.alignment->before_to_now});
    }
    std::sort(out.begin(), out.end(), [](const Placed& a, const Placed& b) { return a.start_s < b.start_s; });
    return out;
}

Affine between(const Placed& a, const Placed& b, double now_s) {
    const double share = std::clamp((now_s - a.end_s) / std::max(1e-9, b.start_s - a.end_s), 0.0, 1.0);
    if (a.at->mirrored != b.at->mirrored) return share < 0.5 ? a.at->matrix() : b.at->matrix();
    const Affine from = a.at->matrix(), to = b.at->matrix();
    Affine out{};
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = from[i] + share * (to[i] - from[i]);
    return out;
}

}  // namespace

std::optional<Affine> placement_at(const Comparison& comparison, std::size_t now_take, std::size_t before_take,
                                   double now_s) {
    const auto holds = placed_holds(comparison, now_take, before_take);
    if (holds.empty()) return std::nullopt;
    if (now_s <= holds.front().end_s) return holds.front().at->matrix();
    for (std::size_t i = 1; i < holds.size(); ++i)
        if (now_s <= holds[i].end_s) return between(holds[i - 1], holds[i], now_s);
    return holds.back().at->matrix();
}

}  // namespace quarterturn::compare
