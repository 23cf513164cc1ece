#include "posing/silhouette_widths.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::posing {
namespace {

// Found on drawn films, see docs/measurement.md: one standard deviation, mostly that of the body's height; and the
// network's mask, which reaches a little beyond the body on both sides together.
constexpr double method_error_pct = 0.5;
constexpr double mask_beyond_pct = 0.35;
constexpr std::size_t fewest_pictures = 3;

struct Gathered {
    Measured width;
    double variance = 0;  ///< of the median
};

Gathered gather(std::span<const body::OutlineWidths> seen, double height_px,
                body::OutlineWidth body::OutlineWidths::*which) {
    std::vector<double> values;
    std::string reason;
    for (const body::OutlineWidths& widths : seen) {
        const body::OutlineWidth& one = widths.*which;
        if (one.px)
            values.push_back(100 * *one.px / height_px - mask_beyond_pct);
        else if (reason.empty())
            reason = one.reason;
    }
    if (values.size() < fewest_pictures || 2 * values.size() < seen.size())
        return {{std::nullopt, reason.empty() ? "the outline was found in too few steady pictures" : reason}, 0};
    std::sort(values.begin(), values.end());
    const double middle = values[values.size() / 2];
    double squares = 0;
    for (const double value : values) squares += (value - middle) * (value - middle);
    const auto count = static_cast<double>(values.size());
    return {{middle, ""}, squares / (count - 1) / count};
}

bool broad_view(const Measured& facing_deg) {
    if (!facing_deg.value) return false;
    const double away = std::abs(std::remainder(*facing_deg.value, 180));
    return away <= widths_within_deg;
}

}  // namespace

Widths silhouette_widths(std::span<const body::OutlineWidths> seen, double height_px, const Measured& facing_deg) {
    if (!broad_view(facing_deg)) {
        const Measured none{std::nullopt, "only a front or a back view shows how broad the body is"};
        return {none, none, none, method_error_pct};
    }
    const Gathered shoulders = gather(seen, height_px, &body::OutlineWidths::shoulders);
    const Gathered waist = gather(seen, height_px, &body::OutlineWidths::waist);
    const Gathered hips = gather(seen, height_px, &body::OutlineWidths::hips);
    const double spread = std::max({shoulders.variance, waist.variance, hips.variance});
    return {shoulders.width, waist.width, hips.width, std::hypot(method_error_pct, std::sqrt(spread))};
}

}  // namespace quarterturn::posing
