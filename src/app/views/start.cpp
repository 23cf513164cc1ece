#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/path_complete.hpp"
#include "app/views/widgets.hpp"
#include "base/places.hpp"

namespace quarterturn::app::views {
namespace {

void field(const View& view, const char* id, std::string& text, const char* hint, float width) {
    ImGui::SetNextItemWidth(width);
    ImGui::InputTextWithHint(id, hint, &text);
    // A tab goes on to what the folders offer.
    if (!ImGui::IsItemActive() || text.empty()) return;
    const auto offers = path_offers(text, 6);
    if (offers.empty() || (offers.size() == 1 && offers[0] == text)) return;
    for (const std::string& offer : offers) text_in(view.fonts.small, ink(view.colours.soft_ink), offer);
}

struct Card3 {
    const char* title;
    const char* words;
};

void tile(const View& view, const Box& box, const Card3& text, double facing) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(corner(box), far_corner(box), ink(view.colours.card), view.px(10));
    list.AddRect(corner(box), far_corner(box), ink(view.colours.hairline), view.px(10), 0, view.px(1));
    draw_turn_mark(list, {box.x + view.px(38), box.y + view.px(40)}, view.px(15), facing, ink(view.colours.ink),
                   ink(view.colours.paper));
    list.AddText(view.fonts.big, view.fonts.big->FontSize, {box.x + view.px(70), box.y + view.px(26)},
                 ink(view.colours.ink), text.title);
    list.AddText(view.fonts.text, view.fonts.text->FontSize, {box.x + view.px(24), box.y + view.px(74)},
                 ink(view.colours.soft_ink), text.words, nullptr, box.w - view.px(48));
    ImGui::SetCursorScreenPos({box.x + view.px(24), box.y + view.px(164)});
}

}  // namespace

void draw_start(const View& view, const Box& box) {
    Scratch& s = view.scratch;
    if (s.library_path.empty()) {
        s.library_path = default_library_folder().string();
        s.demo_path = (default_library_folder().parent_path() / "demo").string();
    }
    begin_panel("start", box, ink(view.colours.paper), 0);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float width = std::min(box.w - view.px(48), view.px(1120));
    const float left = box.x + (box.w - width) / 2;
    const float top = box.y + std::max(view.px(28), (box.h - view.px(520)) / 2);
    list.AddText(view.fonts.big, view.fonts.big->FontSize, {left, top}, ink(view.colours.ink),
                 "Posing practice, measured");
    list.AddText(view.fonts.text, view.fonts.text->FontSize, {left, top + view.px(36)}, ink(view.colours.soft_ink),
                 "Your films stay on this computer. Nothing is sent anywhere, and there is no account.");
    const float gap_px = view.px(18);
    const float w = (width - 2 * gap_px) / 3;
    const float y = top + view.px(84);
    const float field_width = w - view.px(48);
    ImGui::PushID("demo");
    tile(view, {left, y, w, view.px(300)},
         {"Look around",
          "A made-up athlete with two seasons of short practice clips: see what is measured before you film anything."},
         0);
    ImGui::BeginGroup();
    field(view, "##demo", s.demo_path, "Folder for the demo", field_width);
    if (button(view, "demo", {.text = "Open the demo season", .main = true})) view.ask(NewDemo{s.demo_path});
    ImGui::EndGroup();
    ImGui::PopID();
    ImGui::PushID("library");
    tile(view, {left + w + gap_px, y, w, view.px(300)},
         {"Start a library",
          "A folder for your seasons, notes and marks. Your films can stay where they are. An existing library is "
          "opened."},
         90);
    ImGui::BeginGroup();
    field(view, "##library", s.library_path, "Folder for the library", field_width);
    if (button(view, "new", {.text = "New library", .main = true}))
        view.ask(NewLibrary{s.library_path, s.library_title.empty() ? "My posing" : s.library_title});
    ImGui::SameLine();
    if (button(view, "open", {.text = "Open"})) view.ask(UseLibrary{s.library_path});
    if (view.state.file_dialog) {
        ImGui::SameLine();
        if (button(view, "choose", {.text = "Choose..."})) view.ask(ChooseFiles{Choosing::library});
    }
    ImGui::EndGroup();
    ImGui::PopID();
    ImGui::PushID("clip");
    tile(view, {left + 2 * (w + gap_px), y, w, view.px(300)},
         {"Look at one clip",
          "Drop a film on this window, or name it here. It is played and measured; notes need a library."},
         180);
    ImGui::BeginGroup();
    field(view, "##clip", s.path, "Film file", field_width);
    if (button(view, "film", {.text = "Open the film", .main = true}) && !s.path.empty()) view.ask(OpenFile{s.path});
    if (view.state.file_dialog) {
        ImGui::SameLine();
        if (button(view, "choose", {.text = "Choose..."})) view.ask(ChooseFiles{Choosing::films});
    }
    ImGui::EndGroup();
    ImGui::PopID();
    list.AddText(view.fonts.small, view.fonts.small->FontSize, {left, y + view.px(322)}, ink(view.colours.soft_ink),
                 "Stop practising and sit down if you feel dizzy, faint or sick. Long hard holds strain heart and "
                 "circulation: keep breathing, and ask your coach or doctor first.",
                 nullptr, width);
    end_panel();
}

}  // namespace quarterturn::app::views
