#include "compare/sync.hpp"

#include <algorithm>

namespace quarterturn::compare {

Sync::Sync(const Takes& now, std::size_t now_take, const Takes& before, std::size_t before_take,
           const std::vector<Pair>& pairs, TimeMap map)
    : map_(std::move(map)),
      now_length_s_(now[now_take].analysis->clip.duration_s),
      before_length_s_(before[before_take].analysis->clip.duration_s) {
    for (const Pair& pair : pairs)
        if (pair.now.take == now_take && pair.before.take == before_take)
            holds_.push_back({hold_at(now, pair.now).start_s, hold_at(before, pair.before).start_s});
    std::sort(holds_.begin(), holds_.end(), [](const Starts& a, const Starts& b) { return a.now_s < b.now_s; });
}

/// A hold's own start counts from halfway after the start before it, so that the way into a hold is seen too.
double Sync::by_pose(double now_s) const {
    if (holds_.empty()) return map_.before_at(now_s);
    std::size_t at = 0;
    while (at + 1 < holds_.size() && now_s > (holds_[at].now_s + holds_[at + 1].now_s) / 2) ++at;
    return holds_[at].before_s + now_s - holds_[at].now_s;
}

DueMoment Sync::at(double clock_s, SyncMode mode, const FineOffset& offset) const {
    const double before = mode == SyncMode::by_pose ? by_pose(clock_s) : map_.before_at(clock_s);
    return {std::clamp(clock_s + offset.now_s, 0.0, now_length_s_),
            std::clamp(before + offset.before_s, 0.0, before_length_s_)};
}

double Sync::clock_for_before(double before_s, SyncMode mode, const FineOffset& offset) const {
    const double own = before_s - offset.before_s;
    if (mode == SyncMode::by_warped_time || holds_.empty()) return map_.now_at(own);
    const auto nearest = std::min_element(holds_.begin(), holds_.end(), [&](const Starts& a, const Starts& b) {
        const auto off = [&](const Starts& s) { return own >= s.before_s ? own - s.before_s : 4 * (s.before_s - own); };
        return off(a) < off(b);
    });
    return nearest->now_s + own - nearest->before_s;
}

std::size_t rank_on_screen(const std::vector<std::int64_t>& pts, const posing::ClipFacts& clip, double seconds) {
    // A ten thousandth of a second of slack: seconds have been through doubles on the way.
    const auto later = std::upper_bound(pts.begin(), pts.end(), seconds + 1e-4, [&](double at, std::int64_t picture) {
        return at < seconds_of(clip, picture);
    });
    return later == pts.begin() ? 0 : static_cast<std::size_t>(later - pts.begin()) - 1;
}

}  // namespace quarterturn::compare
