#include <fmt/format.h>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

std::string what_is_open(const ReviewState& state) {
    if (state.place == Place::clip && state.clip) {
        std::string text = state.clip->file.filename().string();
        if (!state.clip->in_library) return text + " - not in a library";
        if (const auto* session = state.library->find_session(state.clip->session))
            if (const auto* season = state.library->find_season(session->season))
                text +=
                    fmt::format("   {}, {}", day_text(session->date), weeks_out_text(session->date, season->show_date));
        return text;
    }
    if (state.place == Place::pair) return "This season beside an earlier one";
    if (state.place == Place::library && state.library) return state.library->title;
    return "quarterturn";
}

void progress(const View& view, const JobLine& job, float right) {
    const float width = view.px(150);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at{right - width, ImGui::GetWindowPos().y + view.px(12)};
    text_cut(list, view.fonts.small, at, ink(view.colours.soft_ink), job.title, width);
    const float y = at.y + view.px(18);
    list.AddRectFilled({at.x, y}, {at.x + width, y + view.px(4)}, ink(view.colours.edge), view.px(2));
    const float share = static_cast<float>(std::min(1.0, std::max(0.02, job.share)));
    list.AddRectFilled({at.x, y}, {at.x + width * share, y + view.px(4)}, ink(view.colours.accent), view.px(2));
}

}  // namespace

void draw_bar(const View& view, const Box& box) {
    const ReviewState& state = view.state;
    begin_panel("bar", box, ink(view.colours.paper), 0);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float middle = box.y + box.h / 2;
    draw_turn_mark(list, {box.x + view.px(27), middle - view.px(2)}, view.px(9), 45, ink(view.colours.ink),
                   ink(view.colours.card));
    ImFont* font = view.fonts.bold;
    const float buttons = view.px((state.clip ? 352.0F : 306.0F) + (state.library ? 86.0F : 0.0F));
    text_cut(list, font, {box.x + view.px(50), middle - font->FontSize / 2}, ink(view.colours.ink), what_is_open(state),
             box.w - buttons - view.px(60) - (state.jobs.empty() ? 0 : view.px(170)));
    if (!state.jobs.empty()) progress(view, state.jobs.front(), box.right() - buttons - view.px(10));
    ImGui::SetCursorScreenPos({box.right() - buttons, box.y + view.px(8)});
    const float h = view.px(30);
    const auto place = [&](const char* id, const char* text, Place to, Action key) {
        if (button(view, id,
                   {.text = text,
                    .hint = with_key("", view.hint(key)),
                    .on = state.place == to,
                    .quiet = true,
                    .height = h}))
            view.ask(GoTo{to});
        ImGui::SameLine(0, view.px(2));
    };
    const std::string undo = state.history.undo_title();
    const std::string redo = state.history.redo_title();
    if (button(view, "undo",
               {.icon = Icon::undo,
                .hint = with_key(undo.empty() ? "Nothing to undo" : "Undo: " + undo, view.hint(Action::undo)),
                .quiet = true,
                .width = view.px(34),
                .height = h}))
        view.ask(Undo{});
    ImGui::SameLine(0, view.px(2));
    if (button(view, "redo",
               {.icon = Icon::redo,
                .hint = with_key(redo.empty() ? "Nothing to redo" : "Redo: " + redo, view.hint(Action::redo)),
                .quiet = true,
                .width = view.px(34),
                .height = h}))
        view.ask(Redo{});
    ImGui::SameLine(0, view.px(12));
    if (state.library) place("pair", "Compare", Place::pair, Action::go_pair);
    if (state.clip) place("clip", "Clip", Place::clip, Action::go_clip);
    place("library", "Library", Place::library, Action::go_library);
    place("keys", "Keys", Place::keys, Action::go_keys);
    place("settings", "Settings", Place::settings, Action::go_settings);
    list.AddLine({box.x, box.bottom() - 1}, {box.right(), box.bottom() - 1}, ink(view.colours.hairline),
                 std::max(1.0F, view.scale));
    end_panel();
}

}  // namespace quarterturn::app::views
