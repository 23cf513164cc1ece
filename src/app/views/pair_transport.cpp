#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
void draw_pair_transport(const View& view, const Box& box) {
    const PairDesk& desk = view.state.pair;
    begin_panel("pair transport", box, ink(view.colours.felt), 0);
    const float h = view.px(32);
    ImGui::SetCursorScreenPos({box.x + view.px(8), box.y + (box.h - h) / 2});
    const auto key_button = [&](const char* id, Icon icon, const char* says, Action action) {
        if (button(view, id,
                   {.icon = icon,
                    .hint = with_key(says, view.hint(action)),
                    .quiet = true,
                    .on_felt = true,
                    .width = view.px(34),
                    .height = h}))
            view.ask(Press{action});
        ImGui::SameLine(0, view.px(2));
    };
    key_button("pair before", Icon::previous_hold, "Pose before", Action::previous_hold);
    key_button("step back", Icon::previous, "One picture back", Action::previous_picture);
    if (button(view, "play",
               {.icon = desk.running ? Icon::pause : Icon::play,
                .hint = with_key(desk.running ? "Pause" : "Play both", view.hint(Action::play_or_pause)),
                .main = true,
                .width = view.px(46),
                .height = h}))
        view.ask(Press{Action::play_or_pause});
    ImGui::SameLine(0, view.px(2));
    key_button("step on", Icon::next, "One picture on", Action::next_picture);
    key_button("pair after", Icon::next_hold, "Next pose", Action::next_hold);
    ImGui::SameLine(0, view.px(8));
    key_button("slower", Icon::minus, "Slower", Action::slower);
    if (button(view, "speed",
               {.text = speed_text(desk.speed),
                .hint = with_key("Normal speed", view.hint(Action::normal_speed)),
                .quiet = true,
                .on_felt = true,
                .width = view.px(48),
                .height = h}))
        view.ask(Press{Action::normal_speed});
    ImGui::SameLine(0, view.px(2));
    key_button("faster", Icon::plus, "Faster", Action::faster);
    ImGui::SameLine(0, view.px(8));
    if (button(
            view, "pin",
            {.text = "Pin together",
             .hint = with_key("The two moments on screen belong together: keep it so", view.hint(Action::pin_together)),
             .on_felt = true,
             .height = h,
             .small = true}))
        view.ask(Press{Action::pin_together});
    if (desk.films) {
        const std::string time = clock_time(desk.clock_s, true);
        const float x = box.right() - size_of(view.fonts.bold, time).x - view.px(12);
        ImGui::SameLine(0, view.px(8));
        if (x > ImGui::GetCursorScreenPos().x)
            ImGui::GetWindowDrawList()->AddText(view.fonts.bold, view.fonts.bold->FontSize,
                                                {x, box.y + (box.h - view.fonts.bold->FontSize) / 2},
                                                ink(view.colours.on_felt), time.c_str());
    }
    end_panel();
}

}  // namespace quarterturn::app::views
