#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {

void draw_keys(const View& view, const Box& box) {
    begin_panel("keys", box, ink(view.colours.paper), view.px(24));
    text_in(view.fonts.big, ink(view.colours.ink), "Keys");
    ImGui::PushTextWrapPos(box.w - view.px(48));
    const char* home = std::getenv("HOME");
    text_in(view.fonts.text, ink(view.colours.soft_ink),
            "Change them in " +
                path_text((view.state.settings_folder / "keys.json").string(), home != nullptr ? home : "") +
                " and start the program again. Mouse: the wheel zooms picture and ribbon, the right button on the "
                "ribbon opens a hold or adds one.");
    ImGui::PopTextWrapPos();
    gap(view.px(4));
    const int columns = box.w > view.px(1180) ? 4 : 3;
    const float width = (box.w - view.px(60)) / static_cast<float>(columns);
    ImGui::BeginChild("table", {box.w - view.px(36), box.h - view.px(150)});
    const float top = ImGui::GetCursorPosY();
    const std::size_t lines = actions().size() + 20;  // ten headings take two lines each
    const std::size_t per_column = (lines + static_cast<std::size_t>(columns) - 1) / static_cast<std::size_t>(columns);
    std::size_t line = 0;
    std::string_view group;
    int column = 0;
    // As airy as there is room for.
    const float room = (box.h - view.px(150)) / static_cast<float>(per_column + 1);
    const float font = view.fonts.small->FontSize;
    const float line_height = std::clamp(std::floor(room), font + view.px(4.5F), font + view.px(10));
    ImDrawList& list = *ImGui::GetWindowDrawList();
    for (const ActionInfo& info : actions()) {
        const bool heading = info.group != group;
        if (line + (heading ? 2 : 0) >= per_column && column + 1 < columns) {
            ++column;
            line = 0;
        }
        const auto place = [&] {
            const ImVec2 from = ImGui::GetWindowPos();
            return ImVec2{from.x + static_cast<float>(column) * width,
                          from.y + top - ImGui::GetScrollY() + static_cast<float>(line) * line_height};
        };
        if (heading) {
            group = info.group;
            if (line > 0) ++line;
            const ImVec2 at = place();
            list.AddText(view.fonts.bold, view.fonts.bold->FontSize, at, ink(view.colours.accent),
                         std::string(group).c_str());
            ++line;
        }
        const ImVec2 at = place();
        std::string keys;
        for (const Chord& chord : view.state.keymap.chords_of(info.action))
            keys += (keys.empty() ? "" : "  or  ") + chord_text(chord);
        const float key_width = width * 0.40F;
        text_cut(list, view.fonts.small, at, ink(keys.empty() ? view.colours.soft_ink : view.colours.ink),
                 keys.empty() ? "none" : keys, key_width - view.px(8));
        text_cut(list, view.fonts.small, {at.x + key_width, at.y}, ink(view.colours.soft_ink), std::string(info.title),
                 width - key_width - view.px(14));
        ++line;
    }
    ImGui::Dummy({1, static_cast<float>(per_column + 1) * line_height});
    ImGui::EndChild();
    if (button(view, "back", {.text = "Back"})) view.ask(Press{Action::leave});
    end_panel();
}

}  // namespace quarterturn::app::views
