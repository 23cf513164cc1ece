#include "posing/still_stretches.hpp"

#include <algorithm>
#include <cmath>

#include "posing/slow_end.hpp"

namespace quarterturn::posing {
namespace {

/// Time at which the speed crosses `level` between samples i and i + 1.
double crossing(const SpeedSeries& series, std::size_t i, double level) {
    const double a = *series.speed[i];
    const double b = *series.speed[i + 1];
    const double share = std::clamp((level - a) / (b - a), 0.0, 1.0);
    return series.t_s[i] + share * (series.t_s[i + 1] - series.t_s[i]);
}

/// A stretch of measured samples without a gap: [first, last].
struct Run {
    std::size_t first;
    std::size_t last;
};

std::vector<Run> measured_runs(const SpeedSeries& series) {
    std::vector<Run> runs;
    for (std::size_t i = 0; i < series.speed.size(); ++i) {
        if (!series.speed[i]) continue;
        if (i > 0 && series.speed[i - 1])
            runs.back().last = i;
        else
            runs.push_back({i, i});
    }
    return runs;
}

/// Between two movements. A weak one is a dip that stays above the lower level: noise could make it, so it is no rest
/// by itself, but where the posture is back in it she had come to rest.
struct Rest : Stretch {
    bool weak = false;
};

/// Rests of one run, with bounds at the upper level.
std::vector<Rest> rests_of(const SpeedSeries& series, const Run& run, const HoldSettings& settings) {
    const double level = settings.movement_speed;
    std::vector<Rest> rests;
    bool moving = true;
    for (std::size_t i = run.first; i <= run.last; ++i) {
        const double speed = *series.speed[i];
        if (moving && speed <= level) {
            moving = false;
            const double start = i > run.first ? crossing(series, i - 1, level) : series.t_s[i];
            rests.push_back({{start, series.t_s[run.last]}, true});
        } else if (!moving && speed > level) {
            moving = true;
            rests.back().end_s = crossing(series, i - 1, level);
        }
        if (!moving && speed <= level * settings.hysteresis) rests.back().weak = false;
    }
    if (!rests.empty() && rests.front().start_s <= series.t_s[run.first]) rests.front().weak = false;
    std::erase_if(rests, [&](const Rest& rest) { return !rest.weak && rest.duration_s() < settings.min_still_s; });
    return rests;
}

class Joiner {
  public:
    Joiner(const SpeedSeries& speed, const PostureDistance& distance, const HoldSettings& settings)
        : speed_(speed), distance_(distance), settings_(settings) {}

    std::vector<StillStretch> join(const std::vector<Rest>& rests) const {
        std::vector<StillStretch> stretches;
        for (std::size_t first = 0; first < rests.size();) {
            StillStretch stretch{{rests[first].start_s, rests[first].end_s}, {}};
            std::size_t last = first;
            for (std::size_t next = return_of(rests, first, last); next != last; next = return_of(rests, first, last)) {
                stretch.returned.push_back({rests[last].end_s, rests[next].start_s});
                stretch.bounds.end_s = rests[next].end_s;
                last = next;
            }
            if (last == first && rests[first].weak) {
                ++first;
                continue;
            }
            if (stretch.bounds.duration_s() >= settings_.min_hold_s) stretches.push_back(std::move(stretch));
            first = last + 1;
        }
        return stretches;
    }

  private:
    /// The rest in which the posture of rests first..last is back, `last` itself when it does not come back. The next
    /// rest always gets its chance; later ones only within the time, and not beyond a rest that is clearly a hold of
    /// its own (the far end of a slow twist may rest for a second).
    [[nodiscard]] std::size_t return_of(const std::vector<Rest>& rests, std::size_t first, std::size_t last) const {
        bool its_chance = true;
        for (std::size_t next = last + 1; next < rests.size(); ++next) {
            const double away_s = rests[next].start_s - rests[last].end_s;
            if (!its_chance && away_s > settings_.return_within_s) break;
            const bool sure = !rests[last].weak && rests[next].duration_s() >= settings_.sure_still_s;
            if (its_chance && sure && too_short_to_change(rests[last], rests[next])) return next;
            if (came_back(rests, first, last, next)) return next;
            its_chance = its_chance && rests[next].weak;
            if (rests[next].duration_s() >= 1.25 * settings_.min_hold_s) break;
        }
        return last;
    }

    /// No joint can have moved further than the fastest speed over time: a movement that barely passes the limit and
    /// goes less than the way that makes another posture changes none, wherever slow sway has carried the rests'
    /// settled parts.
    [[nodiscard]] bool too_short_to_change(const Stretch& before, const Stretch& after) const {
        constexpr double sure = 0.6;  // the way is seen across the picture and smoothed
        double way = 0;
        for (std::size_t i = 1; i < speed_.t_s.size(); ++i) {
            const double from = std::max(before.end_s, speed_.t_s[i - 1]), to = std::min(after.start_s, speed_.t_s[i]);
            if (to <= from) continue;
            if (!speed_.speed[i - 1] || !speed_.speed[i]) return false;
            way += (to - from) * std::max(*speed_.speed[i - 1], *speed_.speed[i]);
        }
        return way <= sure * settings_.posture_change;
    }

    /// A wobble may have begun at any of the rests already joined; the latest ones are enough to look at.
    [[nodiscard]] bool came_back(const std::vector<Rest>& rests, std::size_t first, std::size_t last,
                                 std::size_t next) const {
        constexpr std::size_t looked_at = 4;
        const std::size_t from = last - first >= looked_at ? last - looked_at + 1 : first;
        for (std::size_t at = last + 1; at-- > from;)
            if (same(rests[at], rests[next]) && stayed_near(rests[last], rests[next])) return true;
        return false;
    }

    [[nodiscard]] bool same(const Rest& before, const Rest& after) const {
        const bool brief = std::min(before.duration_s(), after.duration_s()) < settings_.sure_still_s;
        const bool weak = before.weak || after.weak;
        const double limit = (weak ? 0.4 : brief ? 0.6 : 1.0) * settings_.posture_change;
        const auto agrees = [&](const Stretch& part) {
            const std::optional<double> change = distance_(part, settled_part(after, false));
            return change && *change <= limit;
        };
        if (agrees(settled_part(before, true))) return true;
        // A slow swing passes through its postures without ever being fast enough for a movement: what was passed in
        // the rest before has been part of the hold already.
        constexpr double look_s = 0.4;
        for (double t = before.end_s - 2 * look_s; t >= before.start_s + look_s / 2; t -= look_s)
            if (agrees({t, t + look_s})) return true;
        return false;
    }

    /// A short movement may stray as it likes; a long one must stay about the posture, or somebody walked off and back.
    [[nodiscard]] bool stayed_near(const Stretch& before, const Stretch& after) const {
        constexpr double look_every_s = 0.5;
        const double length = after.start_s - before.end_s;
        if (length <= settings_.return_within_s) return true;
        for (double t = before.end_s + look_every_s; t < after.start_s; t += look_every_s) {
            const std::optional<double> strayed = distance_(settled_part(before, true), {t, t});
            if (!strayed || *strayed > settings_.excursion) return false;
        }
        return true;
    }

    const SpeedSeries& speed_;
    const PostureDistance& distance_;
    const HoldSettings& settings_;
};

}  // namespace

Stretch settled_part(const Stretch& stretch, bool late) {
    constexpr double away_s = 0.2;
    constexpr double look_s = 0.4;
    const double middle = (stretch.start_s + stretch.end_s) / 2;
    if (late) {
        const double end = std::max(stretch.end_s - away_s, middle);
        return {std::max(end - look_s, stretch.start_s), end};
    }
    const double start = std::min(stretch.start_s + away_s, middle);
    return {start, std::min(start + look_s, stretch.end_s)};
}

std::vector<StillStretch> find_still_stretches(const SpeedSeries& speed, const PostureDistance& distance,
                                               const HoldSettings& settings) {
    std::vector<StillStretch> all;
    const Joiner joiner(speed, distance, settings);
    for (const Run& run : measured_runs(speed))
        for (StillStretch& stretch : joiner.join(rests_of(speed, run, settings))) {
            stretch.bounds = without_slow_end(stretch.bounds, speed, settings);
            all.push_back(std::move(stretch));
        }
    return all;
}

}  // namespace quarterturn::posing
