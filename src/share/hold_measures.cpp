#include "share/hold_measures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "share/chart.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

using posing::Segment;
using Curve = std::vector<std::optional<double>>;

// From where on a movement is worth a sentence; common practice, no source. The twist below is what the method can
// tell from nothing.
constexpr double noticeable_twist_deg = 2.0;
constexpr double noticeable_sway_cm = 1.0, noticeable_sway_pct = 0.6;

std::string length_words(const PoseView& pose, double held) {
    if (!pose.target_hold_s) return fmt::format("Held {}; it is not one of the called poses.", seconds_words(held));
    const double goal = *pose.target_hold_s;
    if (held >= goal) return fmt::format("Held {}: the goal of {:g}\u00A0s is reached.", seconds_words(held), goal);
    return fmt::format("Held {}: {} short of the goal of {:g}\u00A0s.", seconds_words(held), seconds_words(goal - held),
                       goal);
}

std::vector<ChartPoint> points_in(const posing::Signals& signals, const Curve& curve, const Segment& hold) {
    std::vector<ChartPoint> points;
    for (std::size_t i = 0; i < signals.t_s.size() && i < curve.size(); ++i) {
        if (signals.t_s[i] >= hold.start_s && signals.t_s[i] <= hold.end_s)
            points.push_back({signals.t_s[i] - hold.start_s, curve[i], {}});
    }
    const bool any = std::any_of(points.begin(), points.end(), [](const ChartPoint& point) { return point.y; });
    return any ? points : std::vector<ChartPoint>{};
}

std::string sway_words(const ClipView& clip, const Segment& hold) {
    if (!hold.sway.peak_to_peak.value) return {};
    const bool in_cm = clip.analysis && clip.analysis->height_cm;
    const double moved = *hold.sway.peak_to_peak.value;
    const double noticeable = in_cm ? noticeable_sway_cm : noticeable_sway_pct;
    const auto size = [&](double value) {
        return in_cm ? fmt::format("{:.1f}\u00A0cm", value) : fmt::format("{:.1f}\u00A0% of body height", value);
    };
    if (moved < noticeable) return fmt::format("the body stays over the feet (within {})", size(moved));
    if (hold.sway.drift && hold.sway.drift->value) {
        const double drift = *hold.sway.drift->value;
        if (std::abs(drift) >= noticeable && std::abs(drift) >= moved / 2)
            return fmt::format("the hips drift {} to the {}, as the judges see it, during the hold",
                               size(std::abs(drift)), drift > 0 ? "right" : "left");
    }
    std::string words = fmt::format("the whole body sways over {}", size(moved));
    if (hold.sway.dominant_hz.value && *hold.sway.dominant_hz.value > 0)
        words += fmt::format(", once in {:.1f}\u00A0s", 1 / *hold.sway.dominant_hz.value);
    return words;
}

std::string twist_words(const Segment& hold) {
    // Too little to be measured is an answer too.
    const bool tiny = hold.twist.range.reason.find("stays under 1 degree") != std::string::npos;
    if (!hold.twist.range.value && tiny) return "the torso stays square to the hips (within 1°)";
    if (!hold.twist.range.value) return {};
    const double turned = *hold.twist.range.value;
    if (turned < noticeable_twist_deg)
        return fmt::format("the torso stays square to the hips (within {:.1f}°)", turned);
    return fmt::format("the torso turns against the hips over {:.1f}°", turned);
}

std::string sentence(std::string words) {
    if (!words.empty()) words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
    return words + ".";
}

void add_items_missed(const PoseView& pose, std::vector<std::string>& out) {
    for (const ItemView& line : pose.items) {
        if (!line.check || line.check->met != false || !line.check->value.value || !line.limit) continue;
        if (line.item.id == "hold_length") continue;  // said already
        out.push_back(fmt::format("Not yet: {} ({}; {}).", line.item.text,
                                  value_words(*line.check->value.value, line.limit->unit), limit_words(*line.limit)));
    }
}

Html curve_chart(const std::vector<ChartPoint>& points, const char* title, const char* unit, int style, double seconds,
                 double small) {
    // What is too little to stand out looks little too, and is not drawn up to fill the chart.
    double least = -small / 2, most = small / 2;
    for (const ChartPoint& point : points) {
        least = std::min(least, point.y.value_or(least));
        most = std::max(most, point.y.value_or(most));
    }
    Chart chart;
    chart.words = fmt::format("{} over the hold: between {:.1f} and {:.1f} {}.", title, least, most, unit);
    chart.x = axis_from_zero("seconds into the hold", seconds);
    chart.x.to = seconds;
    while (!chart.x.ticks.empty() && chart.x.ticks.back().first > seconds + 1e-9) chart.x.ticks.pop_back();
    chart.y = axis_around(fmt::format("{}, {}", title, unit), least, most);
    chart.series = {{.name = title, .style = style, .points = points, .marks = false}};
    chart.height = 160;
    return draw(chart);
}

}  // namespace

std::vector<std::string> what_stands_out(const SessionView& view, const PoseView& pose) {
    std::vector<std::string> out;
    if (!pose.longest) return {"Not held in this session."};
    const ClipView& clip = view.clips[pose.longest->clip];
    const Segment& hold = view.hold(*pose.longest).now;
    out.push_back(length_words(pose, hold.duration_s()));
    const std::string sway = sway_words(clip, hold), twist = twist_words(hold);
    if (!sway.empty() && !twist.empty()) {
        out.push_back(sentence(sway + "; " + twist));
    } else if (!sway.empty() || !twist.empty()) {
        out.push_back(sentence(sway + twist));
    }
    add_items_missed(pose, out);
    return out;
}

Html hold_curves(const ClipView& clip, const Segment& hold) {
    Html out;
    if (!clip.analysis || hold.duration_s() <= 0) return out;
    const posing::Signals& signals = clip.analysis->signals;
    const auto twist = points_in(signals, signals.twist_deg, hold), sway = points_in(signals, signals.sway_cm, hold);
    if (!twist.empty()) out.add(curve_chart(twist, "Twist", "degrees", 3, hold.duration_s(), noticeable_twist_deg));
    const bool in_cm = clip.analysis->height_cm.has_value();
    const char* unit = in_cm ? "cm" : "% of height";
    if (!sway.empty())
        out.add(
            curve_chart(sway, "Sway", unit, 0, hold.duration_s(), in_cm ? noticeable_sway_cm : noticeable_sway_pct));
    return out;
}

std::string absent_words(const Segment& hold) {
    const std::pair<const char*, const posing::Measured*> measures[] = {{"facing", &hold.facing_deg},
                                                                        {"twist", &hold.twist.range},
                                                                        {"sway", &hold.sway.rms},
                                                                        {"stillness", &hold.stillness}};
    std::map<std::string, std::string> by_reason;
    for (const auto& [name, measure] : measures) {
        if (measure->value) continue;
        std::string& names = by_reason[measure->reason.empty() ? "no reason was given" : measure->reason];
        names += (names.empty() ? "" : ", ") + std::string{name};
    }
    std::string out;
    for (const auto& [reason, names] : by_reason)
        out += fmt::format("{}{} ({})", out.empty() ? "Not measured: " : "; ", names, reason);
    return out.empty() ? out : out + ".";
}

}  // namespace quarterturn::share
