#include <fmt/format.h>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
void draw_transport(const View& view, const Box& box) {
    const ReviewState& state = view.state;
    begin_panel("transport", box, ink(view.colours.felt), 0);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float h = view.px(32);
    const float w = view.px(34);
    const float y = box.y + (box.h - h) / 2;
    ImGui::SetCursorScreenPos({box.x + view.px(8), y});
    const auto key_button = [&](const char* id, Icon icon, const char* says, Action action, bool on = false) {
        if (button(view, id,
                   {.icon = icon,
                    .hint = with_key(says, view.hint(action)),
                    .on = on,
                    .quiet = true,
                    .on_felt = true,
                    .width = w,
                    .height = h}))
            view.ask(Press{action});
        ImGui::SameLine(0, view.px(2));
    };
    key_button("hold before", Icon::previous_hold, "Previous hold", Action::previous_hold);
    key_button("step back", Icon::previous, "One picture back", Action::previous_picture);
    if (button(view, "play",
               {.icon = state.playing.running ? Icon::pause : Icon::play,
                .hint = with_key(state.playing.running ? "Pause" : "Play", view.hint(Action::play_or_pause)),
                .main = true,
                .width = view.px(46),
                .height = h}))
        view.ask(TogglePlay{});
    ImGui::SameLine(0, view.px(2));
    key_button("step on", Icon::next, "One picture on", Action::next_picture);
    key_button("hold after", Icon::next_hold, "Next hold", Action::next_hold);
    key_button("repeat", Icon::repeat, state.playing.repeat ? "Stop repeating" : "Repeat this hold",
               Action::repeat_hold, state.playing.repeat.has_value());
    ImGui::SameLine(0, view.px(8));
    key_button("slower", Icon::minus, "Slower", Action::slower);
    if (button(view, "speed",
               {.text = speed_text(state.playing.speed),
                .hint = with_key("Normal speed", view.hint(Action::normal_speed)),
                .quiet = true,
                .on_felt = true,
                .width = view.px(48),
                .height = h}))
        view.ask(SetSpeed{1});
    ImGui::SameLine(0, view.px(2));
    key_button("faster", Icon::plus, "Faster", Action::faster);

    const double at = state.clip->seconds_of(state.playing.pts);
    const std::string time = clock_time(at, true);
    const std::string of = " / " + clock_time(state.clip->duration_s(), true);
    const ImVec2 time_size = size_of(view.fonts.bold, time);
    const ImVec2 of_size = size_of(view.fonts.small, of);
    float x = box.right() - of_size.x - time_size.x - view.px(12);
    const float baseline = box.y + (box.h - view.fonts.bold->FontSize) / 2;
    if (x > ImGui::GetCursorScreenPos().x - view.px(2)) {
        list.AddText(view.fonts.bold, view.fonts.bold->FontSize, {x, baseline}, ink(view.colours.on_felt),
                     time.c_str());
        list.AddText(view.fonts.small, view.fonts.small->FontSize, {x + time_size.x, baseline + view.px(3)},
                     ink(view.colours.soft_on_felt), of.c_str());
    }
    end_panel();
}

}  // namespace quarterturn::app::views
