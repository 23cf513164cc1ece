#include "body/clip_parts.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace quarterturn::body {
namespace {

/// Seconds from the clip's first picture.
double time_of(const media::FrameIndex& index, std::size_t rank) {
    return seconds_between(index.pictures.front().pts, index.pictures[rank].pts, index.time_base);
}

/// The rank to cut at near `ideal_s`: a key frame within `slack_s`, else just there.
std::size_t cut_near(const media::FrameIndex& index, double ideal_s, double slack_s) {
    std::size_t exact = 0;
    std::size_t best = 0;
    double least = slack_s;
    for (std::size_t rank = 1; rank < index.pictures.size(); ++rank) {
        const double off = std::abs(time_of(index, rank) - ideal_s);
        if (off < std::abs(time_of(index, exact) - ideal_s)) exact = rank;
        if (!index.pictures[rank].key || off > least) continue;
        least = off;
        best = rank;
    }
    return best > 0 ? best : exact;
}

}  // namespace

std::vector<std::size_t> sampled_ranks(const media::FrameIndex& index, double rate_hz) {
    std::vector<std::size_t> ranks;
    std::int64_t last_bin = -1;
    for (std::size_t rank = 0; rank < index.pictures.size(); ++rank) {
        // A hair's breadth is added so that 1/30 s steps, not exact in binary, fall into the bin they begin.
        const auto bin = static_cast<std::int64_t>(std::floor(time_of(index, rank) * rate_hz + 1e-3));
        if (bin <= last_bin) continue;
        ranks.push_back(rank);
        last_bin = bin;
    }
    return ranks;
}

std::vector<ClipPart> plan_parts(const media::FrameIndex& index, const std::vector<std::size_t>& sampled,
                                 PartSettings settings) {
    if (sampled.empty()) return {};
    const double length_s = time_of(index, sampled.back());
    const auto pairs = static_cast<int>(std::lround(length_s / (2 * settings.part_s)));
    if (length_s < 1.25 * settings.part_s || pairs < 1) return {{0, 0, sampled.size()}};
    const int count = 2 * pairs;
    const double each_s = length_s / count;
    std::vector<ClipPart> parts{{0, 0, sampled.size()}};
    for (int i = 1; i < count; ++i) {
        const std::size_t cut = cut_near(index, each_s * i, 0.05 * each_s);
        const auto first =
            static_cast<std::size_t>(std::lower_bound(sampled.begin(), sampled.end(), cut) - sampled.begin());
        const double until_s = time_of(index, cut) + settings.warm_up_s;
        const auto warm = [&](std::size_t rank) { return time_of(index, rank) < until_s; };
        const auto hand_over =
            static_cast<std::size_t>(std::partition_point(sampled.begin(), sampled.end(), warm) - sampled.begin());
        if (hand_over >= sampled.size() || first <= parts.back().hand_over) continue;
        parts.back().end = hand_over;
        parts.push_back({first, hand_over, sampled.size()});
    }
    return parts;
}

}  // namespace quarterturn::body
