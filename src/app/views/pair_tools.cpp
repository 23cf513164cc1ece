#include <fmt/format.h>

#include <array>

#include "app/views/widgets.hpp"

namespace quarterturn::app::views {
namespace {

struct Tool {
    const char* word;
    const char* hint;
    Action action;
    bool on;
};

void tool_button(const View& view, float width, const Tool& tool) {
    if (button(view, tool.word,
               {.text = tool.word,
                .hint = with_key(tool.hint, view.hint(tool.action)),
                .on = tool.on,
                .width = width,
                .height = view.px(28),
                .small = true}))
        view.ask(Press{tool.action});
}

void heading(const View& view, const char* text) {
    gap(view.px(5));
    text_in(view.fonts.small, ink(view.colours.soft_ink), text);
}

// How much of the earlier picture shows: its opacity, or where the edge stands.
void amount(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    const bool edge = desk.look == PairLook::edge;
    if (!edge && desk.look != PairLook::over) return;
    float percent = static_cast<float>(100 * (edge ? desk.edge : desk.opacity));
    heading(view, fmt::format("{} {:.0f} %", edge ? "Edge at" : "Earlier", percent).c_str());
    ImGui::SetNextItemWidth(width);
    ImGui::PushFont(view.fonts.small);
    const bool moved = ImGui::SliderFloat("##amount", &percent, 0, 100, "", ImGuiSliderFlags_NoInput);
    ImGui::PopFont();
    tip(view, with_key(edge ? "Where the edge stands; it can be dragged on the picture" : "How much of it shows",
                       view.hint(Action::look_less) + " " + view.hint(Action::look_more)));
    const double share = static_cast<double>(percent) / 100;
    if (moved && edge) view.ask(PairCommand{pairing::SetEdge{share}});
    if (moved && !edge) view.ask(PairCommand{pairing::SetOpacity{share}});
}

}  // namespace

void draw_pair_tools(const View& view, const Box& box) {
    const PairDesk& desk = view.state.pair;
    begin_panel("pair tools", box, ink(view.colours.paper), 0);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, view.px(3)});
    const bool by_hold = desk.sync == compare::SyncMode::by_pose;
    text_in(view.fonts.small, ink(view.colours.soft_ink), "Look");
    const std::array looks{
        Tool{"Beside", "Side by side, at one scale", Action::look_beside, desk.look == PairLook::beside},
        Tool{"Laid over", "The earlier one over this one, see-through", Action::look_over, desk.look == PairLook::over},
        Tool{"Edge", "This one left of an edge, the earlier one right of it", Action::look_edge,
             desk.look == PairLook::edge},
        Tool{"Outline", "The outline of the earlier body on this picture", Action::look_outline,
             desk.look == PairLook::outline},
        Tool{"Blink", "Now one, now the other", Action::look_blink, desk.look == PairLook::blink}};
    for (const Tool& tool : looks) tool_button(view, box.w, tool);
    amount(view, box.w);
    heading(view, "Time");
    // Two words, one action that changes between them: pressing the one that is on does nothing.
    for (const bool hold : {true, false})
        if (button(view, hold ? "by hold" : "followed",
                   {.text = hold ? "By hold" : "Followed",
                    .hint = with_key(hold ? "Paired holds begin together, each film at its own speed"
                                          : "The earlier film follows this one through holds and turns",
                                     view.hint(Action::change_sync)),
                    .on = by_hold == hold,
                    .width = box.w,
                    .height = view.px(28),
                    .small = true}) &&
            by_hold != hold)
            view.ask(Press{Action::change_sync});
    heading(view, "Picture");
    tool_button(view, box.w,
                {"One scale", "The earlier body brought to this one's size, place and upright; or as filmed",
                 Action::align_pictures, desk.aligned});
    tool_button(view, box.w,
                {"Light",
                 "Brightness and colour of the earlier picture brought to this one's. Takes away some of what "
                 "tan and oil do, too",
                 Action::match_light, desk.match_light});
    tool_button(view, box.w, {"Mirror", "Left and right swapped on screen", Action::mirror, desk.zooming.mirrored});
    tool_button(view, box.w, {"Whole", "The whole picture; zoom with the wheel", Action::zoom_whole, false});
    ImGui::PopStyleVar();
    end_panel();
}

}  // namespace quarterturn::app::views
