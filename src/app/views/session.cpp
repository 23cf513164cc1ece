#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

std::size_t notes_to_do(const journal::Library& library, const std::string& fingerprint) {
    const auto notes = library.notes_of_clip(fingerprint);
    return static_cast<std::size_t>(
        std::count_if(notes.begin(), notes.end(), [](const auto* note) { return !note->done; }));
}

void draw_clip(const View& view, const journal::Clip& clip, float width) {
    ImGui::PushID(clip.id.c_str());
    const Palette& c = view.colours;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float height = view.px(38);
    const float buttons = view.px(236);
    const bool open = view.state.clip && view.state.clip->fingerprint == clip.id;
    if (ImGui::InvisibleButton("open", {width - buttons, height})) view.ask(OpenFromLibrary{clip.id});
    const bool over = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (over) list.AddRectFilled(at, {at.x + width - buttons, at.y + height}, ink(c.card_pressed), view.px(5));
    draw_icon(list, Icon::play, {at.x + view.px(8), at.y + view.px(11)}, view.px(15),
              ink(open ? c.accent : c.soft_ink));
    const float y = at.y + (height - view.fonts.text->FontSize) / 2;
    text_cut(list, view.fonts.text, {at.x + view.px(34), y}, ink(clip.counts ? c.ink : c.soft_ink), clip.original_name,
             width - buttons - view.px(140));
    if (const std::size_t notes = notes_to_do(*view.state.library, clip.id); notes > 0) {
        const float x = at.x + width - buttons - view.px(62);
        list.AddRectFilled({x, at.y + view.px(8)}, {x + view.px(44), at.y + view.px(30)}, ink(c.felt), view.px(11));
        draw_note_dot(list, {x + view.px(13), at.y + view.px(19)}, view.px(5), false);
        list.AddText(view.fonts.small, view.fonts.small->FontSize, {x + view.px(24), at.y + view.px(11)},
                     ink(c.on_felt), std::to_string(notes).c_str());
    }
    ImGui::SetCursorScreenPos({at.x + width - buttons + view.px(8), at.y + view.px(8)});
    if (button(view, "counts",
               {.text = clip.counts ? "Counts" : "Left out",
                .hint = "Whether this take counts in reports",
                .on = clip.counts,
                .small = true})) {
        journal::Clip changed = clip;
        changed.counts = !clip.counts;
        view.ask(SetClip{changed, clip.counts ? "Leave the take out" : "Let the take count"});
    }
    ImGui::SameLine(0, view.px(4));
    if (button(view, "mirrored",
               {.text = "Mirrored",
                .hint = "The film shows left and right swapped, as a front camera does",
                .on = clip.mirrored,
                .small = true})) {
        journal::Clip changed = clip;
        changed.mirrored = !clip.mirrored;
        view.ask(SetClip{changed, "Mirrored film"});
    }
    ImGui::SameLine(0, view.px(4));
    if (button(view, "measure", {.text = "Measure", .small = true})) view.ask(AnalyseClip{clip.id});
    ImGui::SameLine(0, view.px(4));
    if (button(view, "out",
               {.icon = Icon::close,
                .hint = "Take this clip out of the library. The film file stays where it is",
                .quiet = true,
                .small = true}))
        view.ask(TakeClipOut{clip.id});
    ImGui::SetCursorScreenPos({at.x, at.y + height + view.px(2)});
    ImGui::PopID();
}

void draw_moving(const View& view, const journal::Session& session) {
    Scratch& s = view.scratch;
    if (s.session_id != session.id) {
        s.session_id = session.id;
        s.session_date = format_date(session.date);
    }
    ImGui::SetNextItemWidth(view.px(130));
    ImGui::InputText("##date", &s.session_date);
    ImGui::SameLine();
    const auto date = parse_date(s.session_date);
    if (button(view, "move", {.text = "Move to this day", .small = true}) && date)
        view.ask(MoveSession{session.id, *date});
    if (!date) text_in(view.fonts.small, ink(view.colours.trouble), "Write the date as year-month-day.");
}

}  // namespace

void draw_session(const View& view, const journal::Season& season, const journal::Session& session, float width) {
    const auto clips = view.state.library->clips_of(session.id);
    ImGui::PushID(session.id.c_str());
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.ChannelsSplit(2);
    list.ChannelsSetCurrent(1);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float pad = view.px(14);
    const std::string title = day_text(session.date) + (session.date_is_guessed() ? " (guessed)" : "");
    list.AddText(view.fonts.bold, view.fonts.bold->FontSize, {at.x + pad, at.y + view.px(10)}, ink(view.colours.ink),
                 title.c_str());
    const std::string weeks =
        weeks_out_text(session.date, season.show_date) + (session.title.empty() ? "" : "   " + session.title);
    list.AddText(view.fonts.small, view.fonts.small->FontSize,
                 {at.x + pad + size_of(view.fonts.bold, title).x + view.px(14), at.y + view.px(13)},
                 ink(view.colours.soft_ink), weeks.c_str());
    ImGui::Dummy({width, view.px(38)});
    ImGui::SetCursorScreenPos({at.x + width - view.px(244), at.y + view.px(9)});
    if (button(view, "compare",
               {.text = "Compare", .hint = "Beside the nearest session of an earlier season", .small = true}))
        view.ask(PairCommand{pairing::Compare{{session.id, std::nullopt}, std::nullopt}});
    ImGui::SameLine(0, view.px(4));
    const bool unfolded = view.state.session == session.id;
    if (button(view, "date", {.text = "Other day", .quiet = true, .small = true}))
        view.ask(ChooseSession{unfolded ? "" : session.id});
    ImGui::SameLine(0, view.px(4));
    if (button(view, "all", {.text = "Measure all", .small = true})) view.ask(AnalyseSession{session.id});
    ImGui::SetCursorScreenPos({at.x, at.y + view.px(42)});
    ImGui::Indent(pad);
    if (unfolded) draw_moving(view, session);
    for (const auto* clip : clips) draw_clip(view, *clip, width - 2 * pad);
    if (clips.empty()) text_in(view.fonts.small, ink(view.colours.soft_ink), "No clips.");
    ImGui::Unindent(pad);
    gap(view.px(4));
    list.ChannelsSetCurrent(0);
    const ImVec2 to{at.x + width, ImGui::GetCursorScreenPos().y - ImGui::GetStyle().ItemSpacing.y};
    list.AddRectFilled(at, to, ink(view.colours.card), view.px(8));
    list.AddRect(at, to, ink(view.colours.hairline), view.px(8), 0, std::max(1.0F, view.scale));
    list.ChannelsMerge();
    ImGui::PopID();
}

}  // namespace quarterturn::app::views
