#include <fmt/format.h>

#include "app/views/widgets.hpp"

namespace quarterturn::app::views {
namespace {

std::string measured_text(const ChecklistLine& line) {
    if (line.measured == nullptr) return line.item->measured ? "not measured" : "by eye";
    const auto& check = *line.measured;
    if (!check.value.value) return check.value.reason.empty() ? "not measurable" : check.value.reason;
    std::string text = fmt::format("measured {:.2g} {}", *check.value.value, check.unit);
    if (check.limit) text += fmt::format(", limit {:g}", *check.limit);
    if (line.program) text += fmt::format(": {}", *line.program);
    return text;
}

void draw_line(const View& view, const Card& card, const ChecklistLine& line, std::size_t number, float width) {
    const Palette& c = view.colours;
    const bool chosen = view.state.desk.item == number;
    const bool coach = view.state.settings.author_is_coach;
    ImGui::PushID(static_cast<int>(number));
    const float marks = view.px(5 * 28 + 4);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImFont* font = view.fonts.text;
    const float wrap = width - marks - view.px(10);
    const float text_height = font->CalcTextSizeA(font->FontSize, 1e6F, wrap, line.item->text.c_str()).y;
    const float height = text_height + view.fonts.small->FontSize + view.px(7);
    if (ImGui::InvisibleButton("line", {wrap, height})) view.ask(ChooseItem{number});
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (chosen)
        list.AddRectFilled({at.x - view.px(7), at.y}, {at.x - view.px(4), at.y + height - view.px(3)}, ink(c.accent));
    list.AddText(font, font->FontSize, at, ink(c.ink), line.item->text.c_str(), nullptr, wrap);
    std::string small = measured_text(line);
    const auto other = coach ? line.own : line.coach;
    if (other) small += fmt::format("   {} {}", coach ? "athlete" : "coach", *other);
    text_cut(list, view.fonts.small, {at.x, at.y + text_height + view.px(1)}, ink(c.soft_ink), small, wrap);
    tip(view, line.item->published ? "The limit stands in a published rule." : "Common practice.");
    ImGui::SameLine(0, view.px(10));
    const auto own = coach ? line.coach : line.own;
    for (int value = 0; value <= 4; ++value) {
        ImGui::PushID(value);
        const bool counts = own ? *own == value : line.program == value;
        if (button(view, "mark",
                   {.text = std::to_string(value),
                    .hint = counts && !own ? "What measuring says. Press to give your own mark"
                                           : "Your mark; press again to take it back",
                    .on = own == value,
                    .quiet = !counts,
                    .width = view.px(27),
                    .height = view.px(27)})) {
            view.ask(ChooseItem{number});
            view.ask(SetMark{card.pose, line.item->id, value});
        }
        ImGui::PopID();
        if (value < 4) ImGui::SameLine(0, view.px(1));
    }
    ImGui::PopID();
}

}  // namespace

void draw_card_checklist(const View& view, const Card& card, float width) {
    const auto lines = checklist_of(view.state, card);
    if (lines.empty())
        text_in(view.fonts.small, ink(view.colours.soft_ink), "This division has no checklist for these holds.");
    for (std::size_t i = 0; i < lines.size(); ++i) draw_line(view, card, lines[i], i, width);
}

}  // namespace quarterturn::app::views
