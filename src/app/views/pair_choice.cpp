#include <fmt/format.h>

#include <algorithm>

#include "app/views/widgets.hpp"
#include "app/words.hpp"

namespace quarterturn::app::views {
namespace {

struct Line {
    std::string session, title, more;
    bool nearest = false;
};

std::string session_title(const journal::Library& library, const journal::Session& session) {
    const auto* season = library.find_season(session.season);
    return season == nullptr
               ? day_text(session.date)
               : fmt::format("{}, {}", day_text(session.date), weeks_out_text(session.date, season->show_date));
}

std::string division_and_poses(const compare::Match& match) {
    const char* division = match.same_division ? "Same" : "Another";
    // Clips that are not measured yet have poses that nobody knows of.
    if (match.poses_shared == 0) return fmt::format("{} division, no shared pose known yet", division);
    return fmt::format("{} division, {} {} shared", division, match.poses_shared,
                       match.poses_shared == 1 ? "pose" : "poses");
}

// Proposals first, nearest on top; then the other sessions, latest first.
std::vector<Line> lines_of(const ReviewState& state) {
    std::vector<Line> lines;
    const PairDesk& desk = state.pair;
    if (desk.made)
        for (const auto& proposed : desk.made->proposed)
            if (const auto* session = state.library->find_session(proposed.session))
                lines.push_back({session->id, session_title(*state.library, *session),
                                 division_and_poses(proposed.match), lines.empty()});
    for (auto session = state.library->sessions.rbegin(); session != state.library->sessions.rend(); ++session) {
        const bool listed =
            std::any_of(lines.begin(), lines.end(), [&](const Line& line) { return line.session == session->id; });
        const bool own = desk.now && desk.now->session == session->id;
        if (listed || own) continue;
        const auto* season = state.library->find_season(session->season);
        lines.push_back(
            {session->id, session_title(*state.library, *session), season != nullptr ? season->title : "", false});
    }
    return lines;
}

// "All clips" and each clip by itself. @return what was pressed
std::optional<PairChoice> clip_buttons(const View& view, const std::string& session,
                                       const std::optional<PairChoice>& on, float width) {
    std::optional<PairChoice> pressed;
    const auto clips = view.state.library->clips_of(session);
    const float left = ImGui::GetCursorPosX();
    float used = 0;
    const auto one = [&](const std::string& id, const std::string& text, const PairChoice& choice) {
        const float w = std::min(width, size_of(view.fonts.small, text).x + view.px(16));
        if (used > 0 && used + w > width) {
            used = 0;
        } else if (used > 0) {
            ImGui::SameLine(0, view.px(4));
        }
        if (used == 0) ImGui::SetCursorPosX(left);
        used += w + view.px(4);
        if (button(view, id.c_str(), {.text = text, .on = on == choice, .width = w, .small = true})) pressed = choice;
    };
    one("all", "All clips", {session, std::nullopt});
    for (const auto* clip : clips) one(clip->id, shortened(clip->original_name, 34), {session, clip->id});
    return pressed;
}

void draw_now_choice(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    const auto* session = desk.now ? view.state.library->find_session(desk.now->session) : nullptr;
    if (session == nullptr) return;
    text_in(view.fonts.bold, ink(view.colours.ink), "This season");
    text_in(view.fonts.small, ink(view.colours.soft_ink), session_title(*view.state.library, *session));
    ImGui::PushID("this season");
    if (const auto pressed = clip_buttons(view, session->id, desk.now, width))
        view.ask(PairCommand{pairing::Compare{*pressed, desk.before}});
    ImGui::PopID();
}

}  // namespace

void draw_pair_choice(const View& view, float width) {
    const PairDesk& desk = view.state.pair;
    draw_now_choice(view, width);
    gap(view.px(6));
    text_in(view.fonts.bold, ink(view.colours.ink), "Compare with");
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const auto lines = lines_of(view.state);
    if (lines.empty())
        text_in(view.fonts.small, ink(view.colours.soft_ink), "There is no other session in this library.");
    for (const Line& line : lines) {
        ImGui::PushID(line.session.c_str());
        const ImVec2 at = ImGui::GetCursorScreenPos();
        list.AddText(view.fonts.text, view.fonts.text->FontSize, at, ink(view.colours.ink), line.title.c_str());
        const float x = at.x + size_of(view.fonts.text, line.title).x + view.px(10);
        text_cut(list, view.fonts.small, {x, at.y + view.px(2)},
                 ink(line.nearest ? view.colours.accent : view.colours.soft_ink),
                 line.nearest ? "Nearest match. " + line.more : line.more, at.x + width - x);
        ImGui::Dummy({width, view.fonts.text->FontSize + view.px(2)});
        if (const auto pressed = clip_buttons(view, line.session, desk.before, width))
            view.ask(PairCommand{pairing::Compare{*desk.now, *pressed}});
        gap(view.px(4));
        ImGui::PopID();
    }
}

}  // namespace quarterturn::app::views
