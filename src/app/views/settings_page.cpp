#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/views/widgets.hpp"

namespace quarterturn::app::views {

void draw_settings(const View& view, const Box& box) {
    Settings settings = view.state.settings;
    begin_panel("settings", box, ink(view.colours.paper), view.px(24));
    text_in(view.fonts.big, ink(view.colours.ink), "Settings");
    gap(view.px(8));
    const auto heading = [&](const char* text) {
        gap(view.px(6));
        text_in(view.fonts.bold, ink(view.colours.ink), text);
    };
    heading("You");
    text_in(view.fonts.small, ink(view.colours.soft_ink),
            "Your name stands beside your notes and marks. Empty: the library's athlete.");
    if (view.scratch.author.empty() && !ImGui::IsAnyItemActive()) view.scratch.author = settings.author_name;
    ImGui::SetNextItemWidth(view.px(320));
    ImGui::InputTextWithHint("##name", "Name", &view.scratch.author);
    if (ImGui::IsItemDeactivatedAfterEdit()) settings.author_name = view.scratch.author;
    if (button(view, "athlete", {.text = "I am the athlete", .on = !settings.author_is_coach}))
        settings.author_is_coach = false;
    ImGui::SameLine();
    if (button(view, "coach", {.text = "I am the coach", .on = settings.author_is_coach}))
        settings.author_is_coach = true;
    heading("Look");
    if (button(view, "light", {.text = "Light", .on = settings.theme == Theme::light})) settings.theme = Theme::light;
    ImGui::SameLine();
    if (button(view, "dark", {.text = "Dark", .on = settings.theme == Theme::dark})) settings.theme = Theme::dark;
    text_in(view.fonts.small, ink(view.colours.soft_ink), "Size of everything");
    for (const double size : {0.75, 0.9, 1.0, 1.15, 1.3, 1.5, 2.0}) {
        const std::string text = fmt::format("{:.0f} %", size * 100);
        if (button(view, text.c_str(), {.text = text, .on = std::abs(settings.text_scale - size) < 0.01}))
            settings.text_scale = size;
        ImGui::SameLine(0, view.px(4));
    }
    ImGui::NewLine();
    heading("Sound");
    if (button(view, "sound on", {.icon = Icon::sound, .text = "Sound", .on = settings.sound})) settings.sound = true;
    ImGui::SameLine();
    if (button(view, "sound off", {.icon = Icon::no_sound, .text = "Silent", .on = !settings.sound}))
        settings.sound = false;
    heading("Body numbers");
    text_in(view.fonts.small, ink(view.colours.soft_ink),
            "Numbers here are about posing, never about the worth of a body. Outlines and widths can be hidden.");
    if (view.state.library) {
        const bool hidden = view.state.library->athlete.hide_body_numbers;
        if (button(view, "hide",
                   {.text = hidden ? "Widths and outlines are hidden" : "Hide widths and outlines", .on = hidden}))
            view.ask(HideBodyNumbers{!hidden});
    }
    gap(view.px(18));
    if (button(view, "back", {.text = "Back"})) view.ask(Press{Action::leave});
    if (!(settings == view.state.settings)) view.ask(SetSettings{settings});
    end_panel();
}

}  // namespace quarterturn::app::views
