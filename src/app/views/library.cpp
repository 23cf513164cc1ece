#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <chrono>

#include "app/path_complete.hpp"
#include "app/views/widgets.hpp"
#include "app/words.hpp"
#include "rules/rule_sets.hpp"

namespace quarterturn::app::views {
namespace {

/// Read once: a rule set is a document, and this is asked for in every frame.
const std::vector<std::string>& division_titles() {
    static const std::vector<std::string> titles = [] {
        std::vector<std::string> all;
        for (const std::string& id : rules::bundled_rule_sets()) {
            const auto set = rules::bundled_rule_set(id);
            all.push_back(set ? set->title : id_as_words(id));
        }
        return all;
    }();
    return titles;
}

Date today() {
    return std::chrono::year_month_day(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now()));
}

void draw_new_season(const View& view, float width) {
    Scratch& s = view.scratch;
    text_in(view.fonts.bold, ink(view.colours.ink), "Start a season");
    ImGui::SetNextItemWidth(width);
    ImGui::InputTextWithHint("##season title", "Name of the season", &s.season_title);
    ImGui::SetNextItemWidth(width);
    ImGui::InputTextWithHint("##season date", "Show date, like 2027-05-08", &s.season_date);
    const auto& titles = division_titles();
    ImGui::SetNextItemWidth(width);
    const auto at = static_cast<std::size_t>(s.season_rules);
    if (ImGui::BeginCombo("##division", titles[at].c_str())) {
        for (std::size_t i = 0; i < titles.size(); ++i)
            if (ImGui::Selectable(titles[i].c_str(), i == at)) s.season_rules = static_cast<int>(i);
        ImGui::EndCombo();
    }
    const auto date = parse_date(s.season_date);
    if (!s.season_date.empty() && !date)
        text_in(view.fonts.small, ink(view.colours.trouble), "Write the date as year-month-day.");
    if (button(view, "start season", {.text = "Start", .main = date.has_value()}) && date) {
        journal::Season season;
        season.title = s.season_title.empty() ? "Season to " + day_text(*date) : s.season_title;
        season.show_date = *date;
        season.rule_set = rules::bundled_rule_sets()[at];
        view.ask(NewSeason{season});
        s.season_title.clear();
        s.season_date.clear();
    }
}

void draw_seasons(const View& view, float width) {
    for (const auto& season : view.state.library->seasons) {
        ImGui::PushID(season.id.c_str());
        const bool chosen = view.state.season == season.id;
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float height = view.px(62);
        if (ImGui::InvisibleButton("season", {width, height})) view.ask(ChooseSeason{season.id});
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const Palette& c = view.colours;
        list.AddRectFilled(at, {at.x + width, at.y + height}, ink(ImGui::IsItemHovered() ? c.card_pressed : c.card),
                           view.px(7));
        list.AddRect(at, {at.x + width, at.y + height}, ink(chosen ? c.accent : c.hairline), view.px(7), 0,
                     view.px(chosen ? 2 : 1));
        text_cut(list, view.fonts.bold, {at.x + view.px(12), at.y + view.px(9)}, ink(c.ink), season.title,
                 width - view.px(24));
        text_cut(list, view.fonts.small, {at.x + view.px(12), at.y + view.px(35)}, ink(c.soft_ink),
                 day_text(season.show_date) + ", " + weeks_out_text(today(), season.show_date), width - view.px(24));
        ImGui::PopID();
    }
}

void draw_jobs(const View& view, float width) {
    if (view.state.jobs.empty()) return;
    text_in(view.fonts.bold, ink(view.colours.ink), "Working on");
    for (const JobLine& job : view.state.jobs) {
        ImGui::PushID(static_cast<int>(job.id));
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImDrawList& list = *ImGui::GetWindowDrawList();
        const float inner = width - view.px(34);
        text_cut(list, view.fonts.small, at, ink(view.colours.ink), job.title + (job.waiting ? " (waiting)" : ""),
                 inner);
        const float y = at.y + view.fonts.small->FontSize + view.px(5);
        list.AddRectFilled({at.x, y}, {at.x + inner, y + view.px(5)}, ink(view.colours.edge), view.px(2));
        list.AddRectFilled({at.x, y},
                           {at.x + inner * static_cast<float>(std::clamp(job.share, 0.0, 1.0)), y + view.px(5)},
                           ink(view.colours.accent), view.px(2));
        ImGui::Dummy({inner, view.px(28)});
        ImGui::SameLine(0, view.px(4));
        if (button(
                view, "cancel",
                {.icon = Icon::close, .hint = "Stop this", .quiet = true, .width = view.px(28), .height = view.px(28)}))
            view.ask(CancelJob{job.id});
        ImGui::PopID();
    }
}

void draw_adding(const View& view, float width) {
    Scratch& s = view.scratch;
    text_in(view.fonts.bold, ink(view.colours.ink), "Add films");
    text_in(view.fonts.small, ink(view.colours.soft_ink), "Drop them on the window, or name a file or folder:");
    ImGui::SetNextItemWidth(width - view.px(70));
    const bool enter = ImGui::InputTextWithHint(
        "##path", "/home/...", &s.path, ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackCompletion,
        [](ImGuiInputTextCallbackData* data) {
            const std::string whole = completed(std::string(data->Buf, static_cast<std::size_t>(data->BufTextLen)));
            data->DeleteChars(0, data->BufTextLen);
            data->InsertChars(0, whole.c_str());
            return 0;
        });
    const bool writing = ImGui::IsItemActive();
    ImGui::SameLine(0, view.px(6));
    if ((button(view, "add", {.text = "Add"}) || enter) && !s.path.empty()) {
        view.ask(AddFilms{{s.path}});
        s.path.clear();
    }
    if (view.state.file_dialog && button(view, "choose", {.text = "Choose files..."}))
        view.ask(ChooseFiles{Choosing::films});
    if (writing && !s.path.empty())
        for (const std::string& offer : path_offers(s.path, 6))
            text_in(view.fonts.small, ink(view.colours.soft_ink), offer);
}

}  // namespace

void draw_library(const View& view, const Box& box) {
    const auto& library = *view.state.library;
    const float side = std::min(view.px(320), box.w * 0.3F);
    begin_panel("library side", {box.x, box.y, side, box.h}, ink(view.colours.paper), view.px(16));
    const float inner = side - view.px(32);
    draw_seasons(view, inner);
    gap(view.px(8));
    if (!view.state.season.empty()) draw_adding(view, inner);
    gap(view.px(8));
    draw_jobs(view, inner);
    gap(view.px(8));
    draw_new_season(view, inner);
    end_panel();

    begin_panel("library", {box.x + side, box.y, box.w - side, box.h}, ink(view.colours.paper), view.px(16));
    const float width = box.w - side - view.px(32) - ImGui::GetStyle().ScrollbarSize;
    ImGui::BeginChild("sessions", {0, 0});
    const auto* season = library.find_season(view.state.season);
    if (season == nullptr)
        text_in(view.fonts.text, ink(view.colours.soft_ink),
                "Start a season on the left: it says which show the practice is for.");
    if (season != nullptr) {
        auto sessions = library.sessions_of(season->id);
        if (sessions.empty())
            text_in(view.fonts.text, ink(view.colours.soft_ink), "No practice yet. Drop today's films on this window.");
        for (auto session = sessions.rbegin(); session != sessions.rend(); ++session)
            draw_session(view, *season, **session, width);
    }
    ImGui::EndChild();
    end_panel();
}

}  // namespace quarterturn::app::views
