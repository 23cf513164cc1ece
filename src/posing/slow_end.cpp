#include "posing/slow_end.hpp"

#include <algorithm>
#include <optional>

namespace quarterturn::posing {
namespace {

constexpr double most_s = 0.4;  ///< by which a bound moves
constexpr double look_s = 1.5;  ///< of the hold that tells its unrest

double level_beside(const SpeedSeries& series, const Stretch& part, const HoldSettings& settings) {
    std::vector<double> speeds;
    for (std::size_t i = 0; i < series.t_s.size(); ++i)
        if (series.speed[i] && series.t_s[i] >= part.start_s && series.t_s[i] <= part.end_s)
            speeds.push_back(*series.speed[i]);
    if (speeds.empty()) return settings.movement_speed;
    const auto high = speeds.begin() + static_cast<std::ptrdiff_t>(0.8 * static_cast<double>(speeds.size() - 1));
    std::nth_element(speeds.begin(), high, speeds.end());
    return std::clamp(1.5 * *high, settings.slow_share * settings.movement_speed, settings.movement_speed);
}

/// Back from sample `after`, the first one past the end, to where the speed was still at the level.
std::optional<double> slow_since(const SpeedSeries& series, std::size_t after, double level) {
    for (std::size_t i = after; i-- > 0;) {
        if (!series.speed[i] || !series.speed[i + 1]) return std::nullopt;
        if (series.t_s[i] < series.t_s[after] - most_s) return series.t_s[i + 1];
        const double below = *series.speed[i], above = *series.speed[i + 1];
        if (above <= level) return std::nullopt;  // at rest up to the end
        if (below > level) continue;
        return series.t_s[i] + (level - below) / (above - below) * (series.t_s[i + 1] - series.t_s[i]);
    }
    return std::nullopt;
}

}  // namespace

Stretch without_slow_end(const Stretch& hold, const SpeedSeries& speed, const HoldSettings& settings) {
    const double half = hold.duration_s() / 2;
    const auto after = std::upper_bound(speed.t_s.begin(), speed.t_s.end(), hold.end_s);
    if (settings.slow_share >= 1 || half < 1.5 * most_s || after == speed.t_s.end()) return hold;
    const double level = level_beside(speed, {hold.end_s - std::min(look_s, half), hold.end_s - most_s}, settings);
    const auto slow = slow_since(speed, static_cast<std::size_t>(after - speed.t_s.begin()), level);
    const double shortest = hold.start_s + std::min(settings.min_hold_s, hold.duration_s());
    return {hold.start_s, std::clamp(slow.value_or(hold.end_s), shortest, hold.end_s)};
}

}  // namespace quarterturn::posing
