#include "app/views/widgets.hpp"

namespace quarterturn::app::views {

void draw_messages(const View& view, const Box& box) {
    float bottom = box.bottom();
    std::vector<Message> messages = view.state.messages;
    // Stays as long as it is true: it cannot be put away.
    if (view.state.save_trouble)
        messages.push_back(
            {0, *view.state.save_trouble + " What you changed is kept here and saved as soon as it can be.", true, 0});
    for (auto message = messages.rbegin(); message != messages.rend(); ++message) {
        const float pad = view.px(12);
        const float wrap = box.w - 2 * pad - view.px(34);
        const float height =
            view.fonts.text->CalcTextSizeA(view.fonts.text->FontSize, 1e6F, wrap, message->text.c_str()).y + 2 * pad;
        if (bottom - height < box.y - box.h) break;
        const Box place{box.x, bottom - height, box.w, height};
        begin_panel(("message" + std::to_string(message->id)).c_str(), place, ink(view.colours.card), pad);
        ImDrawList& list = *ImGui::GetWindowDrawList();
        list.PushClipRectFullScreen();
        const Rgb edge = message->trouble ? view.colours.trouble : view.colours.accent;
        list.AddRectFilled(corner(place), {place.x + view.px(5), place.bottom()}, ink(edge));
        list.AddRect(corner(place), far_corner(place), ink(edge), 0, 0, view.px(1));
        list.PopClipRect();
        ImGui::PushTextWrapPos(pad + wrap);
        text_in(view.fonts.text, ink(message->trouble ? view.colours.trouble : view.colours.ink), message->text);
        ImGui::PopTextWrapPos();
        ImGui::SetCursorScreenPos({place.right() - view.px(38), place.y + view.px(8)});
        if (message->id != 0 && button(view, "away",
                                       {.icon = Icon::close,
                                        .hint = "Put this away",
                                        .quiet = true,
                                        .width = view.px(28),
                                        .height = view.px(28)}))
            view.ask(PutAway{message->id});
        end_panel();
        bottom -= height + view.px(8);
    }
}

}  // namespace quarterturn::app::views
