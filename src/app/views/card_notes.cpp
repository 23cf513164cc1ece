
#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

std::string who_and_when(const View& view, const journal::Note& note) {
    std::string text;
    if (note.moment) {
        text = clock_time(view.state.clip->seconds_of(note.moment->start_pts), true);
        if (note.moment->end_pts) text += " - " + clock_time(view.state.clip->seconds_of(*note.moment->end_pts), true);
        text += "   ";
    }
    text += note.author.name.empty() ? std::string(journal::role_id(note.author.role)) : note.author.name;
    if (note.author.role == journal::Role::coach && !note.author.name.empty()) text += ", coach";
    if (!note.drawings.empty()) text += "   with drawing";
    return text;
}

void draw_filter(const View& view, float width) {
    const Desk& desk = view.state.desk;
    const auto choose = [&](const char* id, const char* text, NoteFilter filter) {
        if (button(view, id, {.text = text, .on = desk.filter == filter, .quiet = true, .small = true}))
            view.ask(FilterNotes{filter, desk.topic});
        ImGui::SameLine(0, view.px(3));
    };
    choose("all", "All", NoteFilter::all);
    choose("to do", "To do", NoteFilter::to_do);
    choose("done", "Done", NoteFilter::done);
    const float used = ImGui::GetCursorPosX() - view.px(12);
    ImGui::SetNextItemWidth(std::max(view.px(80), width - used));
    if (desk.search_wanted) ImGui::SetKeyboardFocusHere();
    view.scratch.search = desk.search;
    if (ImGui::InputTextWithHint("##search", "Search", &view.scratch.search))
        view.ask(SearchNotes{view.scratch.search});
    if (desk.search_wanted && ImGui::IsItemActive()) view.ask(SearchFocused{});
}

void draw_topics(const View& view, const journal::Note& note, float width) {
    float x = 0;
    for (const auto& topic : rules::topics()) {
        const std::string title(topic.title);
        const float w = size_of(view.fonts.small, title).x + view.px(14);
        if (x > 0 && x + w + view.px(3) <= width)
            ImGui::SameLine(0, view.px(3));
        else
            x = 0;
        x += w + view.px(3);
        if (button(view, std::string(topic.id).c_str(),
                   {.text = title, .on = note.topic == topic.topic, .quiet = note.topic != topic.topic, .small = true}))
            view.ask(SetTopic{note.id, topic.topic});
    }
}

// The chosen note: its text is written to right here.
void draw_writing(const View& view, const journal::Note& note, float width) {
    Scratch& scratch = view.scratch;
    if (scratch.note_id != note.id && !(view.state.desk.typing && scratch.note_fresh)) {
        scratch.note_id = note.id;
        scratch.note_text = note.text;
        scratch.note_fresh = view.state.desk.typing;
        if (view.state.desk.typing) ImGui::SetKeyboardFocusHere();
    }
    if (!view.state.desk.typing) scratch.note_fresh = false;
    const float lines = 3.4F;
    if (ImGui::InputTextMultiline("##text", &scratch.note_text, {width, view.fonts.text->FontSize * lines}))
        view.ask(TypeNote{note.id, scratch.note_text});
    if (!ImGui::IsItemActive() && scratch.note_text != note.text && !note.text.empty() && !view.state.desk.typing)
        scratch.note_text = note.text;
    draw_topics(view, note, width);
}

void draw_note(const View& view, const journal::Note& note, float width) {
    // The chosen one keeps its name while it is saved for the first time, so that its text box keeps the keyboard.
    ImGui::PushID(view.state.desk.note == note.id ? "chosen" : note.id.c_str());
    const bool chosen = view.state.desk.note == note.id;
    const Palette& c = view.colours;
    if (button(view, "done",
               {.icon = note.done ? Icon::done : Icon::to_do,
                .hint = note.done ? "Done. Press: to do again" : "To do. Press when it is done",
                .quiet = true,
                .width = view.px(26),
                .height = view.px(26),
                .small = true}))
        view.ask(SetDone{note.id, !note.done});
    ImGui::SameLine(0, view.px(6));
    ImGui::BeginGroup();
    const float inner = width - view.px(32);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float height = view.fonts.small->FontSize + view.px(5);
    if (ImGui::InvisibleButton("choose", {inner - view.px(28), height}))
        view.ask(ChooseNote{chosen ? std::nullopt : std::optional(note.id)});
    const std::string line = who_and_when(view, note) + "   " + std::string(rules::topic_title(note.topic));
    text_cut(*ImGui::GetWindowDrawList(), view.fonts.small, at, ink(ImGui::IsItemHovered() ? c.accent : c.soft_ink),
             line, inner - view.px(28));
    if (chosen) {
        ImGui::SameLine(0, 0);
        if (button(view, "remove",
                   {.icon = Icon::close,
                    .hint = "Remove this note",
                    .quiet = true,
                    .width = view.px(26),
                    .height = height,
                    .small = true}))
            view.ask(RemoveNote{note.id});
        ImGui::PushID("writing");
        draw_writing(view, note, inner);
        ImGui::PopID();
    } else {
        ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + inner);
        text_in(view.fonts.text, ink(note.done ? c.soft_ink : c.ink), note.text);
        ImGui::PopTextWrapPos();
        if (ImGui::IsItemClicked()) view.ask(ChooseNote{note.id});
    }
    ImGui::EndGroup();
    ImGui::PopID();
}

}  // namespace

void draw_card_notes(const View& view, const Card& card, float width) {
    const ReviewState& state = view.state;
    draw_filter(view, width);
    const auto notes = notes_of(state, card);
    const bool fresh = state.draft && state.draft->note.pose.value_or("") == card.pose && state.library &&
                       !state.library->find_note(state.draft->note.id);
    for (const auto* note : notes) draw_note(view, *note, width);
    if (fresh) draw_note(view, state.draft->note, width);
    if (notes.empty() && !fresh) {
        const std::string key = view.hint(Action::pin_note);
        ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
        text_in(view.fonts.small, ink(view.colours.soft_ink),
                state.desk.search.empty() && state.desk.filter == NoteFilter::all
                    ? "No notes yet. Stop at a picture and pin one" + (key.empty() ? "." : " (" + key + ").")
                    : "No note fits.");
        ImGui::PopTextWrapPos();
    }
    if (!state.clip->in_library) return;
    if (button(view, "pin", {.icon = Icon::plus, .text = "Pin a note here", .small = true})) view.ask(PinNote{});
    ImGui::SameLine(0, view.px(6));
    if (state.desk.stretch_from) {
        if (button(view, "up to", {.text = "Stretch up to here", .main = true, .small = true})) view.ask(StretchTo{});
    } else if (button(view, "from", {.text = "Stretch from here", .small = true})) {
        view.ask(StretchFrom{});
    }
}

}  // namespace quarterturn::app::views
