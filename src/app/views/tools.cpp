#include "app/views/widgets.hpp"

namespace quarterturn::app::views {
namespace {

struct Overlay {
    const char* word;
    Icon icon;
    bool Overlays::*which;
    Action action;
};
constexpr Overlay overlays[] = {{"Skeleton", Icon::skeleton, &Overlays::skeleton, Action::show_skeleton},
                                {"Plumb line", Icon::plumb, &Overlays::plumb_line, Action::show_plumb_line},
                                {"Levels", Icon::levels, &Overlays::levels, Action::show_levels},
                                {"Outline", Icon::silhouette, &Overlays::silhouette, Action::show_silhouette},
                                {"Thirds", Icon::thirds, &Overlays::thirds, Action::show_thirds},
                                {"Drawings", Icon::drawings, &Overlays::drawings, Action::show_drawings}};
struct Tool {
    Icon icon;
    DrawingKind kind;
    Action action;
};
constexpr Tool tools[] = {
    {Icon::level, DrawingKind::level, Action::draw_level}, {Icon::upright, DrawingKind::upright, Action::draw_upright},
    {Icon::angle, DrawingKind::angle, Action::draw_angle}, {Icon::ring, DrawingKind::ring, Action::draw_ring},
    {Icon::arrow, DrawingKind::arrow, Action::draw_arrow}, {Icon::stroke, DrawingKind::stroke, Action::draw_stroke}};

}  // namespace

void draw_tools(const View& view, const Box& box) {
    const Desk& desk = view.state.desk;
    begin_panel("tools", box, ink(view.colours.paper), 0);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, view.px(2)});
    const float h = view.px(29);
    text_in(view.fonts.small, ink(view.colours.soft_ink), "Show");
    for (const Overlay& overlay : overlays) {
        const bool on = desk.overlays.*overlay.which;
        if (button(view, overlay.word,
                   {.icon = overlay.icon,
                    .text = overlay.word,
                    .hint = with_key(on ? "Hide" : "Show", view.hint(overlay.action)),
                    .on = on,
                    .quiet = true,
                    .width = box.w,
                    .height = h,
                    .small = true}))
            view.ask(Press{overlay.action});
    }
    gap(view.px(6));
    text_in(view.fonts.small, ink(view.colours.soft_ink), "Draw");
    for (const Tool& tool : tools) {
        const std::string word(drawing_kind_title(tool.kind));
        if (button(view, ("draw " + word).c_str(),
                   {.icon = tool.icon,
                    .text = word,
                    .hint = with_key("Draw on the picture; becomes part of a note", view.hint(tool.action)),
                    .on = desk.tool == tool.kind,
                    .quiet = true,
                    .width = box.w,
                    .height = h,
                    .small = true}))
            view.ask(Press{tool.action});
    }
    gap(view.px(6));
    text_in(view.fonts.small, ink(view.colours.soft_ink), "View");
    if (button(view, "mirror",
               {.icon = Icon::mirror,
                .text = "Mirror",
                .hint = with_key("Left and right swapped on screen", view.hint(Action::mirror)),
                .on = desk.zooming.mirrored,
                .quiet = true,
                .width = box.w,
                .height = h,
                .small = true}))
        view.ask(Press{Action::mirror});
    if (button(view, "whole",
               {.icon = Icon::whole,
                .text = "Whole",
                .hint = with_key("The whole picture; zoom with the wheel", view.hint(Action::zoom_whole)),
                .quiet = true,
                .width = box.w,
                .height = h,
                .small = true}))
        view.ask(Press{Action::zoom_whole});
    ImGui::PopStyleVar();
    end_panel();
}

}  // namespace quarterturn::app::views
