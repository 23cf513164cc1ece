#include "compare/body_signal.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quarterturn::compare {
namespace {

using enum body::Joint;
constexpr std::array<std::pair<body::Joint, body::Joint>, 6> pairs{std::pair{left_shoulder, right_shoulder},
                                                                   {left_elbow, right_elbow},
                                                                   {left_wrist, right_wrist},
                                                                   {left_hip, right_hip},
                                                                   {left_knee, right_knee},
                                                                   {left_ankle, right_ankle}};

constexpr double longest_gap_s = 0.5;
/// Weight of the direction against the joints: a half turn counts as half a body height.
constexpr double facing_weight = 0.25;

Posed posed(const body::CourseFrame& frame, std::optional<double> facing_deg) {
    Posed out{};
    const body::CoursePoint pelvis = body::middle(frame[left_hip], frame[right_hip]);
    std::size_t next = 0;
    for (const auto& [left, right] : pairs) {
        const body::CoursePoint &l = frame[left], &r = frame[right];
        out[next++] = ((l.x + r.x) / 2 - pelvis.x) / frame.height_px;
        out[next++] = ((l.y + r.y) / 2 - pelvis.y) / frame.height_px;
        out[next++] = std::abs(l.x - r.x) / frame.height_px;
        out[next++] = std::abs(l.y - r.y) / frame.height_px;
    }
    if (facing_deg) {
        out[next++] = facing_weight * std::cos(*facing_deg * std::numbers::pi / 180);
        out[next] = facing_weight * std::sin(*facing_deg * std::numbers::pi / 180);
    }
    return out;
}

/// The facing whose time is nearest; the signals have one entry for every looked-at picture with somebody in it.
std::optional<double> facing_at(const posing::Signals& signals, double t_s) {
    if (signals.t_s.empty() || signals.facing_deg.size() != signals.t_s.size()) return std::nullopt;
    const auto later = std::lower_bound(signals.t_s.begin(), signals.t_s.end(), t_s);
    auto rank = static_cast<std::size_t>(later - signals.t_s.begin());
    if (rank == signals.t_s.size() || (rank > 0 && t_s - signals.t_s[rank - 1] < signals.t_s[rank] - t_s)) --rank;
    if (std::abs(signals.t_s[rank] - t_s) > 0.2) return std::nullopt;
    return signals.facing_deg[rank];
}

struct Seen {
    double t_s;
    Posed posed;
};

std::vector<Seen> seen_in(const Take& take, double from_s, double to_s) {
    std::vector<Seen> seen;
    for (const body::CourseFrame& frame : take.course->frames) {
        if (!frame.present || !(frame.height_px > 0)) continue;
        if (frame.t_s < from_s - longest_gap_s || frame.t_s > to_s + longest_gap_s) continue;
        seen.push_back({frame.t_s, posed(frame, facing_at(take.analysis->signals, frame.t_s))});
    }
    return seen;
}

Posed between(const Seen& a, const Seen& b, double t_s) {
    const double share = std::clamp((t_s - a.t_s) / (b.t_s - a.t_s), 0.0, 1.0);
    Posed out{};
    for (std::size_t i = 0; i < signal_count; ++i) out[i] = a.posed[i] + share * (b.posed[i] - a.posed[i]);
    return out;
}

bool has_gap(const std::vector<Seen>& seen, double from_s, double to_s) {
    if (seen.size() < 2 || seen.front().t_s > from_s + longest_gap_s || seen.back().t_s < to_s - longest_gap_s)
        return true;
    for (std::size_t i = 1; i < seen.size(); ++i)
        if (seen[i].t_s - seen[i - 1].t_s > longest_gap_s) return true;
    return false;
}

}  // namespace

std::optional<BodySignal> body_signal(const Take& take, double from_s, double to_s, double rate_hz) {
    if (!take.course || !take.analysis || !(to_s > from_s)) return std::nullopt;
    const std::vector<Seen> seen = seen_in(take, from_s, to_s);
    if (has_gap(seen, from_s, to_s)) return std::nullopt;
    BodySignal out;
    const auto steps = static_cast<std::size_t>(std::max(1.0, std::round((to_s - from_s) * rate_hz)));
    out.rate_hz = static_cast<double>(steps) / (to_s - from_s);
    out.start_s = from_s;
    std::size_t before = 0;
    for (std::size_t i = 0; i <= steps; ++i) {
        const double t_s = out.time_of(static_cast<double>(i));
        while (before + 2 < seen.size() && seen[before + 1].t_s <= t_s) ++before;
        out.samples.push_back(between(seen[before], seen[before + 1], t_s));
    }
    return out;
}

double distance(const Posed& a, const Posed& b) {
    double sum = 0;
    for (std::size_t i = 0; i < signal_count; ++i) sum += (a[i] - b[i]) * (a[i] - b[i]);
    return std::sqrt(sum);
}

}  // namespace quarterturn::compare
