#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>

#include "app/apply.hpp"
#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

std::size_t notes_to_do(const journal::Library& library, const std::string& fingerprint) {
    const auto notes = library.notes_of_clip(fingerprint);
    return static_cast<std::size_t>(
        std::count_if(notes.begin(), notes.end(), [](const auto* note) { return !note->done; }));
}

// The row's own buttons, right of its name.
void draw_clip_buttons(const View& view, const journal::Clip& clip) {
    if (button(view, "counts",
               {.text = clip.counts ? "Counts" : "Left out",
                .hint = with_key("Whether this take counts in reports", view.hint(Action::clip_counts)),
                .on = clip.counts,
                .small = true})) {
        journal::Clip changed = clip;
        changed.counts = !clip.counts;
        view.ask(SetClip{changed, clip.counts ? "Leave the take out" : "Let the take count"});
    }
    ImGui::SameLine(0, view.px(4));
    if (button(view, "mirrored",
               {.text = "Mirrored",
                .hint = with_key("The film shows left and right swapped, as a front camera does",
                                 view.hint(Action::turn_mirrored_film)),
                .on = clip.mirrored,
                .small = true})) {
        journal::Clip changed = clip;
        changed.mirrored = !clip.mirrored;
        view.ask(SetClip{changed, "Mirrored film"});
    }
    ImGui::SameLine(0, view.px(4));
    const bool moving = view.state.moving && view.state.moving->clip == clip.id;
    if (button(view, "move",
               {.text = "Move",
                .hint = with_key("To another session, also of another season", view.hint(Action::move_clip)),
                .on = moving,
                .small = true}))
        view.ask(StartMoving{moving ? std::nullopt : std::optional(clip.id)});
    ImGui::SameLine(0, view.px(4));
    if (const JobLine* job = measuring_job(view.state, clip.id)) {
        if (button(view, "stop", {.text = "Stop", .hint = "Stop measuring", .width = view.px(70), .small = true}))
            view.ask(CancelJob{job->id});
    } else if (button(view, "measure",
                      {.text = "Measure",
                       .hint =
                           with_key(measured_hint(measured_mark(view.state, clip.id)), view.hint(Action::measure_clip)),
                       .width = view.px(70),
                       .small = true})) {
        view.ask(AnalyseClip{clip.id});
    }
    ImGui::SameLine(0, view.px(4));
    if (button(view, "out",
               {.icon = Icon::close,
                .hint = with_key("Take this clip out of the library. The film file stays where it is",
                                 view.hint(Action::take_clip_out)),
                .quiet = true,
                .small = true}))
        view.ask(TakeClipOut{clip.id});
}

void draw_notes_to_do(const View& view, const journal::Clip& clip, ImVec2 at) {
    const std::size_t notes = notes_to_do(*view.state.library, clip.id);
    if (notes == 0) return;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled({at.x, at.y + view.px(8)}, {at.x + view.px(44), at.y + view.px(30)}, ink(view.colours.felt),
                       view.px(11));
    draw_note_dot(list, {at.x + view.px(13), at.y + view.px(19)}, view.px(5), false);
    list.AddText(view.fonts.small, view.fonts.small->FontSize, {at.x + view.px(24), at.y + view.px(11)},
                 ink(view.colours.on_felt), std::to_string(notes).c_str());
}

void draw_row_mark(const View& view, const journal::Clip& clip, ImVec2 at, float width) {
    const Palette& c = view.colours;
    const MeasuredMark mark = measured_mark(view.state, clip.id);
    const JobLine* job = measuring_job(view.state, clip.id);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const bool fine = mark == MeasuredMark::measured;
    draw_measured_mark(list, {at.x + view.px(8), at.y + view.px(19)}, view.px(5.5F), mark,
                       job != nullptr ? job->share : 0, ink(fine ? c.soft_ink : c.accent));
    if (width < view.px(60)) return;
    text_cut(list, view.fonts.small, {at.x + view.px(20), at.y + view.px(19) - view.fonts.small->FontSize / 2},
             ink(fine ? c.soft_ink : c.ink), measured_text(view.state, clip.id), width - view.px(20));
}

// Where the clip can go: every session of every season, the one pointed at framed.
void draw_targets(const View& view, const journal::Clip& clip, float width) {
    const journal::Library& library = *view.state.library;
    text_in(view.fonts.small, ink(view.colours.soft_ink),
            "To which session? " + view.hint(Action::next_clip) + " and " + view.hint(Action::previous_clip) +
                " point, " + view.hint(Action::open_clip) + " moves it there, " + view.hint(Action::leave) +
                " leaves it here.");
    const auto sessions = sessions_in_order(library);
    const float line = view.px(26);
    const float height = std::min(static_cast<float>(sessions.size()), 6.5F) * (line + view.px(3)) + view.px(2);
    ImGui::BeginChild("targets", {width, height});
    for (const journal::Session* session : sessions) {
        const auto* season = library.find_season(session->season);
        const bool here = session->id == clip.session, aimed = view.state.moving->session == session->id;
        std::string text = day_text(session->date) + "   " + (season != nullptr ? season->title : "");
        if (!session->title.empty()) text += "   " + session->title;
        if (here) text += "   (where it is)";
        if (button(view, session->id.c_str(),
                   {.text = text, .on = aimed, .quiet = true, .height = line, .small = true}))
            view.ask(MoveClip{clip.id, session->id});
        if (aimed && view.scratch.seen_target != session->id) {
            view.scratch.seen_target = session->id;
            ImGui::SetScrollHereY();
        }
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() - ImGui::GetStyle().ItemSpacing.y + view.px(3));
    }
    ImGui::EndChild();
}

void draw_clip(const View& view, const journal::Clip& clip, float width) {
    ImGui::PushID(clip.id.c_str());
    const Palette& c = view.colours;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float height = view.px(38);
    const float buttons = view.px(284), notes = view.px(54);
    const float row = width - buttons;
    // In a narrow window the mark is its shape alone; resting on the row says the rest.
    const float mark = view.px(row > view.px(420) ? 150 : 24);
    const bool open = view.state.clip && view.state.clip->fingerprint == clip.id;
    const bool chosen = view.state.library_clip == clip.id;
    if (ImGui::InvisibleButton("open", {row, height})) view.ask(OpenFromLibrary{clip.id});
    const bool over = ImGui::IsItemHovered();
    tip(view, clip.original_name + ". " + measured_hint(measured_mark(view.state, clip.id)));
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (over) list.AddRectFilled(at, {at.x + row, at.y + height}, ink(c.card_pressed), view.px(5));
    if (chosen) {
        list.AddRect(at, {at.x + row, at.y + height}, ink(c.accent), view.px(5), 0, view.px(1.5F));
        if (view.scratch.seen_clip != clip.id) ImGui::SetScrollHereY();
        view.scratch.seen_clip = clip.id;
    }
    draw_icon(list, Icon::play, {at.x + view.px(8), at.y + view.px(11)}, view.px(15),
              ink(open ? c.accent : c.soft_ink));
    const float y = at.y + (height - view.fonts.text->FontSize) / 2;
    text_cut(list, view.fonts.text, {at.x + view.px(34), y}, ink(clip.counts ? c.ink : c.soft_ink), clip.original_name,
             row - mark - notes - view.px(38));
    draw_notes_to_do(view, clip, {at.x + row - mark - notes, at.y});
    draw_row_mark(view, clip, {at.x + row - mark, at.y}, mark);
    ImGui::SetCursorScreenPos({at.x + row + view.px(8), at.y + view.px(8)});
    draw_clip_buttons(view, clip);
    ImGui::SetCursorScreenPos({at.x, at.y + height + view.px(2)});
    if (view.state.moving && view.state.moving->clip == clip.id) draw_targets(view, clip, width);
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
    float buttons = view.px(8);
    for (const char* text : {"Compare", "Other day", "Measure all"})
        buttons += size_of(view.fonts.small, text).x + view.px(14);
    ImGui::SetCursorScreenPos({at.x + width - pad - buttons, at.y + view.px(9)});
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
