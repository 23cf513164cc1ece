#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/apply.hpp"
#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

using Curve = std::vector<std::optional<double>>;

struct Strip {
    const View& view;
    ImDrawList& list;
    Box plot;
    double from_s, to_s;
    [[nodiscard]] float x(double seconds) const {
        return plot.x + static_cast<float>((seconds - from_s) / (to_s - from_s)) * plot.w;
    }
};

// Half the height stands for this much: a round number that holds the curve.
double reach_of(const Strip& strip, const std::vector<double>& t, const Curve& curve) {
    double most = 0;
    for (std::size_t i = 0; i < std::min(t.size(), curve.size()); ++i)
        if (curve[i] && t[i] >= strip.from_s && t[i] <= strip.to_s) most = std::max(most, std::abs(*curve[i]));
    for (const double step : {0.5, 1.0, 2.0, 3.0, 5.0, 10.0, 20.0, 30.0, 60.0, 90.0})
        if (most <= step) return step;
    return 180;
}

void draw_curve(const Strip& s, const std::vector<double>& t, const Curve& curve, const CategoryLook& look,
                double reach) {
    const float middle = s.plot.y + s.plot.h / 2;
    std::optional<ImVec2> last;
    std::size_t drawn = 0;
    for (std::size_t i = 0; i < std::min(t.size(), curve.size()); ++i) {
        if (t[i] < s.from_s || t[i] > s.to_s || !curve[i]) {
            last.reset();
            continue;
        }
        const ImVec2 here{s.x(t[i]), middle - static_cast<float>(*curve[i] / reach) * (s.plot.h / 2 - s.view.px(2))};
        const bool dash = look.pattern != Pattern::dashed_line || drawn++ % 4 < 3;
        if (last && dash) s.list.AddLine(*last, here, ink(look.colour), s.view.px(1.8F));
        last = here;
    }
}

std::string number_at(const std::vector<double>& t, const Curve& curve, double seconds) {
    const auto after = std::lower_bound(t.begin(), t.end(), seconds);
    const auto i = static_cast<std::size_t>(after - t.begin());
    if (i >= curve.size() || !curve[i]) return "-";
    return fmt::format("{:+.1f}", *curve[i]);
}

bool any(const Strip& s, const std::vector<double>& t, const Curve& curve) {
    for (std::size_t i = 0; i < std::min(t.size(), curve.size()); ++i)
        if (curve[i] && t[i] >= s.from_s && t[i] <= s.to_s) return true;
    return false;
}

void say(const View& view, const Box& box, const std::string& text) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float wrap = box.w - view.px(24);
    list.AddText(view.fonts.small, view.fonts.small->FontSize, {box.x + view.px(12), box.y + view.px(34)},
                 ink(view.colours.soft_on_felt), text.c_str(), nullptr, wrap);
}

}  // namespace

void draw_strip(const View& view, const Box& box) {
    begin_panel("strip", box, ink(view.colours.felt), 0);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const OpenClip& clip = *view.state.clip;
    auto chosen = view.state.desk.span;
    if (!chosen || !clip.spans[*chosen].is_hold) chosen = span_at(clip, view.state.playing.pts);
    const bool hold = chosen && clip.spans[*chosen].is_hold;
    const std::string title = hold ? pose_title(view.state, clip.spans[*chosen].pose) : "Sway and twist";
    text_cut(list, view.fonts.small, {box.x + view.px(12), box.y + view.px(6)}, ink(view.colours.on_felt), title,
             box.w * 0.5F);
    if (!hold || !clip.measured) {
        say(view, box,
            clip.measured ? "Choose a hold to see how the body sways and the torso twists in it."
                          : "Measure the clip to see sway and twist.");
        end_panel();
        return;
    }
    const auto& range = clip.spans[*chosen].range;
    const Box plot{box.x + view.px(12), box.y + view.px(26), box.w - view.px(24), box.h - view.px(48)};
    const Strip strip{view, list, plot, clip.seconds_of(range.start), clip.seconds_of(range.end)};
    const auto& signals = clip.measured->signals;
    const bool sway = any(strip, signals.t_s, signals.sway_cm), twist = any(strip, signals.t_s, signals.twist_deg);
    if (!sway && !twist) {
        say(view, box,
            clip.measured->method == posing::Method::motion
                ? "Sway and twist need body landmarks; this clip was measured from movement alone."
                : "Neither could be measured in this hold.");
        end_panel();
        return;
    }
    list.AddLine({plot.x, plot.y + plot.h / 2}, {plot.right(), plot.y + plot.h / 2},
                 ink(view.colours.soft_on_felt, 0.6F), std::max(1.0F, view.scale));
    const double sway_reach = reach_of(strip, signals.t_s, signals.sway_cm),
                 twist_reach = reach_of(strip, signals.t_s, signals.twist_deg);
    if (sway) draw_curve(strip, signals.t_s, signals.sway_cm, look_of(Category::sway), sway_reach);
    if (twist) draw_curve(strip, signals.t_s, signals.twist_deg, look_of(Category::twist), twist_reach);
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    ImGui::SetCursorScreenPos(corner(plot));
    ImGui::InvisibleButton("plot", {plot.w, plot.h});
    const bool over = ImGui::IsItemHovered();
    const double at =
        over ? strip.from_s + static_cast<double>((mouse.x - plot.x) / plot.w) * (strip.to_s - strip.from_s)
             : clip.seconds_of(view.state.playing.pts);
    if (at >= strip.from_s && at <= strip.to_s)
        list.AddLine({strip.x(at), plot.y}, {strip.x(at), plot.bottom()}, ink(view.colours.on_felt), view.px(1.5F));
    if (over && ImGui::IsMouseDown(ImGuiMouseButton_Left)) view.ask(SeekSeconds{at});
    const bool known_height = clip.measured->height_cm.has_value();
    const std::string sway_text = fmt::format("sway {} {} (±{:g})", number_at(signals.t_s, signals.sway_cm, at),
                                              known_height ? "cm" : "%", sway_reach);
    const std::string twist_text =
        fmt::format("twist {}° (±{:g})", number_at(signals.t_s, signals.twist_deg, at), twist_reach);
    const float y = plot.bottom() + view.px(3);
    list.AddLine({plot.x, y + view.px(8)}, {plot.x + view.px(18), y + view.px(8)}, ink(look_of(Category::sway).colour),
                 view.px(2));
    list.AddText(view.fonts.small, view.fonts.small->FontSize, {plot.x + view.px(23), y}, ink(view.colours.on_felt),
                 sway_text.c_str());
    const float right = plot.x + plot.w * 0.54F;
    for (int i = 0; i < 3; ++i)
        list.AddLine({right + static_cast<float>(i) * view.px(7), y + view.px(8)},
                     {right + static_cast<float>(i) * view.px(7) + view.px(4), y + view.px(8)},
                     ink(look_of(Category::twist).colour), view.px(2));
    list.AddText(view.fonts.small, view.fonts.small->FontSize, {right + view.px(25), y}, ink(view.colours.on_felt),
                 twist_text.c_str());
    end_panel();
}

}  // namespace quarterturn::app::views
