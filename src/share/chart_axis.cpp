#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "share/chart.hpp"

namespace quarterturn::share {
namespace {

void add_ticks(ChartAxis& axis, double step) {
    const int decimals = step >= 1 ? 0 : static_cast<int>(std::ceil(-std::log10(step) - 1e-9));
    const auto parts = static_cast<int>(std::lround((axis.to - axis.from) / step));
    for (int i = 0; i <= parts; ++i) {
        double value = axis.from + i * step;
        if (std::abs(value) < step * 1e-6) value = 0;  // not "-0"
        axis.ticks.emplace_back(value, fmt::format("{:.{}f}", value, decimals));
    }
}

}  // namespace

double round_step(double span, int steps) {
    const double wanted = span / std::max(steps, 1);
    const double power = std::pow(10, std::floor(std::log10(wanted)));
    const double share = wanted / power;
    if (share < 1.5) return power;
    if (share < 3.5) return 2 * power;
    return share < 7.5 ? 5 * power : 10 * power;
}

ChartAxis axis_from_zero(std::string title, double largest) {
    ChartAxis axis{.title = std::move(title), .from = 0, .to = 0, .ticks = {}};
    const double span = largest > 0 ? largest : 1;
    const double step = round_step(span, 4);
    axis.to = step * std::ceil(span / step - 1e-9);
    add_ticks(axis, step);
    return axis;
}

ChartAxis axis_around(std::string title, double least, double largest) {
    ChartAxis axis{.title = std::move(title), .from = 0, .to = 0, .ticks = {}};
    const double span = largest - least > 1e-9 ? largest - least : 1;
    const double step = round_step(span, 3);
    axis.from = step * std::floor(least / step + 1e-9);
    axis.to = step * std::ceil(largest / step - 1e-9);
    if (axis.to - axis.from < step / 2) axis.to = axis.from + step;
    add_ticks(axis, step);
    return axis;
}

ChartAxis weeks_out_axis(const std::vector<int>& days_out) {
    int most = 7, least = 0;
    for (const int days : days_out) {
        most = std::max(most, days);
        least = std::min(least, days);
    }
    const auto weeks = static_cast<int>(std::ceil(most / 7.0));
    const int every = std::max(1, static_cast<int>(round_step(weeks, 6)));
    ChartAxis axis{.title = "weeks out", .from = 7.0 * weeks, .to = static_cast<double>(least), .ticks = {}};
    for (int week = weeks - weeks % every; week > 0; week -= every)
        axis.ticks.emplace_back(7.0 * week, fmt::format("{}", week));
    axis.ticks.emplace_back(0, "show");
    return axis;
}

}  // namespace quarterturn::share
