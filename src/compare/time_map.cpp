#include "compare/time_map.hpp"

#include <algorithm>
#include <cmath>

#include "compare/body_signal.hpp"
#include "compare/warping.hpp"

namespace quarterturn::compare {
namespace {

using Knot = TimeMap::Knot;

/// Stretch of one film that lies over a stretch of the other.
struct Anchor {
    Knot from, to;
    double weight = 0;  ///< how much is lost without it, seconds
};

/// The most valuable chain of anchors in which both times go forwards.
std::vector<Anchor> in_order(std::vector<Anchor> anchors) {
    std::sort(anchors.begin(), anchors.end(), [](const Anchor& a, const Anchor& b) {
        return a.from.now_s != b.from.now_s ? a.from.now_s < b.from.now_s : a.from.before_s < b.from.before_s;
    });
    std::vector<double> worth(anchors.size());
    std::vector<std::ptrdiff_t> previous(anchors.size(), -1);
    std::ptrdiff_t last = -1;
    for (std::size_t i = 0; i < anchors.size(); ++i) {
        worth[i] = anchors[i].weight;
        for (std::size_t k = 0; k < i; ++k) {
            const bool follows =
                anchors[k].to.now_s <= anchors[i].from.now_s && anchors[k].to.before_s <= anchors[i].from.before_s;
            if (follows && worth[k] + anchors[i].weight > worth[i]) {
                worth[i] = worth[k] + anchors[i].weight;
                previous[i] = static_cast<std::ptrdiff_t>(k);
            }
        }
        if (last < 0 || worth[i] > worth[static_cast<std::size_t>(last)]) last = static_cast<std::ptrdiff_t>(i);
    }
    std::vector<Anchor> chain;
    for (; last >= 0; last = previous[static_cast<std::size_t>(last)])
        chain.push_back(anchors[static_cast<std::size_t>(last)]);
    std::reverse(chain.begin(), chain.end());
    return chain;
}

/// A pinned moment outweighs every hold.
constexpr double pin_weight = 1e6;

/// A pinned moment within a hold parts it into two straight lines.
std::vector<Anchor> parted(const Anchor& hold, const std::vector<Knot>& pins) {
    Knot from = hold.from;
    std::vector<Anchor> parts;
    for (const Knot& pin : pins) {
        if (pin.now_s <= from.now_s || pin.now_s >= hold.to.now_s || pin.before_s <= from.before_s ||
            pin.before_s >= hold.to.before_s)
            continue;
        parts.push_back({from, pin, pin_weight});
        from = pin;
    }
    parts.push_back({from, hold.to, parts.empty() ? hold.weight : pin_weight});
    return parts;
}

constexpr double signal_rate_hz = 30;
/// The path may leave the straight line by this share of the earlier stretch, and at least by this many samples.
constexpr double band_share = 0.4, least_band = 8;
/// Distance per share that the path is off the straight line, body heights: decides where nothing moves.
constexpr double straightness = 0.05;

/// Every now sample's mean counterpart; never decreasing because the path's are.
void append_path(const Warping& warping, const BodySignal& now, const BodySignal& before, std::vector<Knot>& knots) {
    std::size_t at = 0;
    while (at < warping.path.size()) {
        const std::size_t i = warping.path[at].first;
        double sum = 0;
        std::size_t count = 0;
        for (; at < warping.path.size() && warping.path[at].first == i; ++at, ++count)
            sum += static_cast<double>(warping.path[at].second);
        if (i == 0 || i + 1 == now.samples.size()) continue;  // the ends are anchors
        knots.push_back({now.time_of(static_cast<double>(i)), before.time_of(sum / static_cast<double>(count))});
    }
}

void warp_between(const Take& now, const Take& before, const Knot& from, const Knot& to, std::vector<Knot>& knots) {
    if (to.now_s - from.now_s < 0.1 || to.before_s - from.before_s < 0.1) return;
    const auto a = body_signal(now, from.now_s, to.now_s, signal_rate_hz);
    const auto b = body_signal(before, from.before_s, to.before_s, signal_rate_hz);
    if (!a || !b) return;
    const double n = static_cast<double>(a->samples.size() - 1), m = static_cast<double>(b->samples.size() - 1);
    WarpSettings settings;
    settings.band = std::max(least_band, band_share * m);
    const auto cost = [&](std::size_t i, std::size_t j) {
        const double off = static_cast<double>(i) / n - static_cast<double>(j) / m;
        return distance(a->samples[i], b->samples[j]) + straightness * std::abs(off);
    };
    if (const auto warping = warp(a->samples.size(), b->samples.size(), cost, settings))
        append_path(*warping, *a, *b, knots);
}

/// Pauses and walks that lie in a stretch of one film, by their places among its segments.
std::vector<std::size_t> rests_and_walks(const posing::Analysis& analysis, double from_s, double to_s) {
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < analysis.segments.size(); ++i) {
        const posing::Segment& s = analysis.segments[i];
        const bool wanted = s.kind == posing::SegmentKind::walk || s.kind == posing::SegmentKind::pause;
        if (wanted && s.start_s >= from_s && s.end_s <= to_s) found.push_back(i);
    }
    return found;
}

std::optional<posing::SegmentKind> kind_at(const posing::Analysis& analysis, std::size_t place) {
    if (place >= analysis.segments.size()) return std::nullopt;
    return analysis.segments[place].kind;
}

/// Where a stretch holds the same pauses and walks in both films: the n-th belongs to the n-th. A pause is still, so it
/// is laid over the other like a hold. Where a walk begins or ends is told less surely: a bound counts where the same
/// lies beyond it in both, else the postures decide.
std::vector<Anchor> anchors_between(const posing::Analysis& now, const posing::Analysis& before, const Knot& from,
                                    const Knot& to) {
    const auto a = rests_and_walks(now, from.now_s, to.now_s), b = rests_and_walks(before, from.before_s, to.before_s);
    const auto same_kind = [&](std::size_t i, std::size_t k) { return kind_at(now, i) == kind_at(before, k); };
    std::vector<Anchor> anchors;
    if (!std::equal(a.begin(), a.end(), b.begin(), b.end(), same_kind)) return anchors;
    for (std::size_t n = 0; n < a.size(); ++n) {
        const posing::Segment &x = now.segments[a[n]], &y = before.segments[b[n]];
        const Knot begin{x.start_s, y.start_s}, end{x.end_s, y.end_s};
        if (x.kind == posing::SegmentKind::pause) {
            anchors.push_back({begin, end, 0});
            continue;
        }
        // Before the first segment kind_at finds none in both films: the place wraps around to the end.
        if (same_kind(a[n] - 1, b[n] - 1)) anchors.push_back({begin, begin, 0});
        if (same_kind(a[n] + 1, b[n] + 1)) anchors.push_back({end, end, 0});
    }
    return anchors;
}

}  // namespace

TimeMap::TimeMap(std::vector<Knot> knots) {
    for (const Knot& knot : knots) {
        if (!knots_.empty() && knot.before_s < knots_.back().before_s) continue;
        if (!knots_.empty() && knot.now_s <= knots_.back().now_s) {
            if (knot.now_s == knots_.back().now_s) knots_.back().before_s = knot.before_s;
            continue;
        }
        knots_.push_back(knot);
    }
}

double TimeMap::before_at(double now_s) const {
    if (knots_.empty()) return now_s;
    if (now_s <= knots_.front().now_s) return knots_.front().before_s + now_s - knots_.front().now_s;
    if (now_s >= knots_.back().now_s) return knots_.back().before_s + now_s - knots_.back().now_s;
    const auto later = std::upper_bound(knots_.begin(), knots_.end(), now_s,
                                        [](double t, const Knot& knot) { return t < knot.now_s; });
    const Knot &a = *(later - 1), &b = *later;
    return a.before_s + (now_s - a.now_s) / (b.now_s - a.now_s) * (b.before_s - a.before_s);
}

double TimeMap::now_at(double before_s) const {
    if (knots_.empty()) return before_s;
    if (before_s <= knots_.front().before_s) return knots_.front().now_s + before_s - knots_.front().before_s;
    if (before_s >= knots_.back().before_s) return knots_.back().now_s + before_s - knots_.back().before_s;
    const auto later = std::upper_bound(knots_.begin(), knots_.end(), before_s,
                                        [](double t, const Knot& knot) { return t < knot.before_s; });
    const Knot &a = *(later - 1), &b = *later;
    return a.now_s + (before_s - a.before_s) / (b.before_s - a.before_s) * (b.now_s - a.now_s);
}

TimeMap map_times(const Takes& now, std::size_t now_take, const Takes& before, std::size_t before_take,
                  const std::vector<Pair>& pairs, const std::vector<MomentPin>& moments) {
    std::vector<Knot> pins;
    std::vector<Anchor> anchors;
    for (const MomentPin& pin : moments)
        if (pin.now_take == now_take && pin.before_take == before_take) pins.push_back({pin.now_s, pin.before_s});
    std::sort(pins.begin(), pins.end(), [](const Knot& a, const Knot& b) { return a.now_s < b.now_s; });
    for (const Knot& pin : pins) anchors.push_back({pin, pin, pin_weight});
    for (const Pair& pair : pairs) {
        if (pair.now.take != now_take || pair.before.take != before_take) continue;
        const posing::Segment &a = hold_at(now, pair.now), &b = hold_at(before, pair.before);
        const Anchor hold{{a.start_s, b.start_s}, {a.end_s, b.end_s}, std::min(a.duration_s(), b.duration_s())};
        for (const Anchor& part : parted(hold, pins)) anchors.push_back(part);
    }
    const std::vector<Anchor> chain = in_order(std::move(anchors));
    if (chain.empty()) return TimeMap{};

    const posing::Analysis &now_analysis = *now[now_take].analysis, &before_analysis = *before[before_take].analysis;
    std::vector<Anchor> all = anchors_between(now_analysis, before_analysis, {0, 0}, chain.front().from);
    for (std::size_t i = 0; i < chain.size(); ++i) {
        all.push_back(chain[i]);
        const Knot until = i + 1 < chain.size() ? chain[i + 1].from
                                                : Knot{now_analysis.clip.duration_s, before_analysis.clip.duration_s};
        const auto between = anchors_between(now_analysis, before_analysis, chain[i].to, until);
        all.insert(all.end(), between.begin(), between.end());
    }
    std::vector<Knot> knots;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (i > 0) warp_between(now[now_take], before[before_take], all[i - 1].to, all[i].from, knots);
        knots.push_back(all[i].from);
        knots.push_back(all[i].to);
    }
    return TimeMap{std::move(knots)};
}

}  // namespace quarterturn::compare
