#include "app/ribbon_scale.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "app/words.hpp"

namespace quarterturn::app {
namespace {

constexpr double shortest_s = 0.5;
constexpr std::array steps{0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1800.0, 3600.0};

RibbonSpan kept(RibbonSpan span, double clip_s) {
    span.length_s = std::clamp(span.length_s, std::min(shortest_s, clip_s), clip_s);
    span.start_s = std::clamp(span.start_s, 0.0, std::max(0.0, clip_s - span.length_s));
    return span;
}

}  // namespace

float RibbonScale::x_of(double seconds) const {
    const double share = span_.length_s > 0 ? (seconds - span_.start_s) / span_.length_s : 0;
    return left_ + static_cast<float>(std::clamp(share, -4.0, 5.0)) * width_;
}

double RibbonScale::seconds_at(float x) const {
    return span_.start_s + static_cast<double>(x - left_) / static_cast<double>(width_) * span_.length_s;
}

RibbonSpan zoomed(RibbonSpan span, double by, double around_s, double clip_s) {
    const double share = span.length_s > 0 ? (around_s - span.start_s) / span.length_s : 0.5;
    const double length = std::clamp(span.length_s / by, std::min(shortest_s, clip_s), clip_s);
    return kept({around_s - share * length, length}, clip_s);
}

RibbonSpan following(RibbonSpan span, double seconds, double clip_s) {
    const bool inside = seconds >= span.start_s && seconds <= span.start_s + span.length_s;
    if (inside) return span;
    return kept({seconds - span.length_s / 10, span.length_s}, clip_s);
}

RibbonSpan scrolled(RibbonSpan span, double by_s, double clip_s) {
    return kept({span.start_s + by_s, span.length_s}, clip_s);
}

std::vector<Tick> ticks(RibbonSpan span, float width, float label_px) {
    std::vector<Tick> result;
    if (span.length_s <= 0 || width <= 0) return result;
    const double px_per_s = static_cast<double>(width) / span.length_s;
    const auto* step = std::find_if(steps.begin(), steps.end(),
                                    [&](double s) { return s * px_per_s >= static_cast<double>(label_px); });
    const double labelled = step == steps.end() ? steps.back() : *step;
    const double small = labelled / 5;
    const auto first = static_cast<long>(std::ceil(span.start_s / small - 1e-9));
    const auto last = static_cast<long>(std::floor((span.start_s + span.length_s) / small + 1e-9));
    for (long i = first; i <= last; ++i) {
        const double seconds = static_cast<double>(i) * small;
        const bool big = i % 5 == 0;
        result.push_back({seconds, big, big ? clock_time(seconds, labelled < 1) : std::string{}});
    }
    return result;
}

}  // namespace quarterturn::app
