#include "share/report_season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "base/text.hpp"
#include "share/report_page.hpp"
#include "share/season_charts.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

void add_session_cell(Html& html, const SessionPoint& session) {
    html.open("th", {{"scope", "row"}}).text(date_words(session.date));
    const std::string guessed = session.date_guessed ? "guessed, " : "";
    const std::string without = session.is_measured() ? "" : ", nothing measured";
    html.element("span", guessed + weeks_words(session.days_out) + without, {{"class", "measure"}}).close();
}

void add_hold_cells(Html& html, const SeasonView& view, const SessionPoint& session) {
    for (std::size_t i = 0; i < view.poses.size(); ++i) {
        const std::optional<double> held = session.poses[i].hold_s;
        html.element("td", held ? seconds_words(*held) : "\u2013", {{"class", "number"}});
    }
}

void add_score_cells(Html& html, const SessionPoint& session) {
    for (const RoleScore* role : {&session.athlete, &session.coach, &session.program}) {
        html.open("td", {{"class", "number"}}).text(role->own > 0 ? percent_words(role->score) : "\u2013");
        if (role->own > 0)
            html.element("span", fmt::format("{} of {}", role->score.marked, role->score.items),
                         {{"class", "measure"}});
        html.close();
    }
    html.element("td", fmt::format("{}", session.notes_to_do), {{"class", "number"}});
}

/// One line per session.
template <class AddCells>
Html sessions_table(const SeasonView& view, const std::vector<std::string>& columns, const AddCells& add_cells) {
    Html html;
    html.open("div", {{"class", "wide"}, {"tabindex", "0"}, {"role", "region"}, {"aria-labelledby", "numbers"}})
        .open("table");
    html.open("thead").open("tr").element("th", "Session", {{"scope", "col"}});
    for (const std::string& name : columns) html.element("th", name, {{"scope", "col"}, {"class", "number fold"}});
    html.close().close().open("tbody");
    for (const SessionPoint& session : view.sessions) {
        html.open("tr");
        add_session_cell(html, session);
        add_cells(html, session);
        html.close();
    }
    return html.close().close().close();
}

/// Holds and scores apart: together they are wider than a page.
Html table_section(const SeasonView& view) {
    std::vector<std::string> poses;
    for (const SeasonPose& pose : view.poses) poses.push_back(pose.title);
    Html html;
    html.open("section", {{"aria-labelledby", "numbers"}}).element("h2", "The same in numbers", {{"id", "numbers"}});
    html.add(sessions_table(view, poses, [&](Html& to, const SessionPoint& s) { add_hold_cells(to, view, s); }));
    html.element("p", "Hold times are those of the longest hold.", {{"class", "quiet"}});
    html.add(sessions_table(view, {"Athlete", "Coach", "Measured", "Notes to do"},
                            [](Html& to, const SessionPoint& s) { add_score_cells(to, s); }));
    html.element("p", "Below a score: how many items were marked, of how many. A dash: nothing was marked.",
                 {{"class", "quiet"}});
    return html.close();
}

std::string lower_first(std::string text) {
    if (!text.empty()) text.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(text.front())));
    return text;
}

/// How a pose's hold time went from the first session that has it to the latest.
std::string way_of(const SeasonView& view, std::size_t pose) {
    const SessionPoint* first = nullptr;
    const SessionPoint* last = nullptr;
    for (const SessionPoint& session : view.sessions) {
        if (!session.poses[pose].hold_s) continue;
        if (first == nullptr) first = &session;
        last = &session;
    }
    const SeasonPose& asked = view.poses[pose];
    if (last == nullptr) return asked.title + ": not held yet.";
    const double now = *last->poses[pose].hold_s, goal = asked.target_hold_s;
    std::string words = fmt::format("{}: {} on {}", asked.title, seconds_words(now), date_words(last->date));
    if (first != last) {
        const double more = now - *first->poses[pose].hold_s;
        words += std::abs(more) < 0.05 ? fmt::format(", as on {}", date_words(first->date))
                                       : fmt::format(", {} {} than on {}", seconds_words(std::abs(more)),
                                                     more > 0 ? "longer" : "shorter", date_words(first->date));
    }
    return words + (now >= goal
                        ? fmt::format("; the goal of {:g}\u00A0s is reached.", goal)
                        : fmt::format("; {} short of the goal of {:g}\u00A0s.", seconds_words(goal - now), goal));
}

Html season_facts(const SeasonView& view) {
    int analysed_not = 0, to_do = 0;
    for (const SessionPoint& session : view.sessions) {
        analysed_not += session.clips_not_analysed;
        to_do += session.notes_to_do;
    }
    std::vector<Fact> list{{"Sessions", fmt::format("{}", view.sessions.size()), ""}};
    if (!view.sessions.empty()) {
        const SessionPoint& last = view.sessions.back();
        list.push_back({"Latest session", weeks_words(last.days_out), date_words(last.date)});
        for (Fact& fact : score_facts(last.athlete, last.coach, last.program))
            list.push_back({"Latest " + lower_first(fact.name), fact.value, fact.more});
    }
    list.push_back({"Notes to do", fmt::format("{}", to_do), ""});
    Html html;
    html.open("section", {{"aria-labelledby", "short"}}).element("h2", "In short", {{"id", "short"}}).add(facts(list));
    if (!view.sessions.empty()) html.open("ul", {{"class", "stands"}});
    for (std::size_t i = 0; i < view.poses.size() && !view.sessions.empty(); ++i) html.element("li", way_of(view, i));
    if (!view.sessions.empty()) html.close();
    if (analysed_not > 0)
        html.element("p", fmt::format("{} {} not analysed yet, so not in the numbers.", analysed_not,
                                      analysed_not == 1 ? "clip is" : "clips are"));
    return html.close();
}

}  // namespace

std::string season_page(const SeasonView& view, const SessionView* latest, const PoseStills& stills,
                        const SeasonsBeside* beside) {
    const std::string name = to_utf8(view.season.title);
    Html html;
    html.add(opening(view.athlete_name.empty() ? "The season" : view.athlete_name, name,
                     fmt::format("{} \u00B7 show on {}", view.rule_set.title, date_words(view.season.show_date))));
    html.open("main").add(season_facts(view));
    if (!view.sessions.empty()) html.add(hold_charts(view)).add(score_chart(view)).add(table_section(view));
    if (beside != nullptr) html.add(comparison_sections(*beside));
    if (latest != nullptr) {
        html.element("h2", "The latest practice, " + date_words(latest->session.date), {{"class", "part"}});
        html.add(warning_section(*latest)).add(pose_sections(*latest, stills));
    }
    bool motion = false, landmarks = false;
    for (const SessionPoint& session : view.sessions) {
        motion = motion || session.motion_alone;
        landmarks = landmarks || session.landmarks;
    }
    html.add(cautions()).add(how_numbers_were_had(motion, landmarks)).close();
    return page(name, html);
}

}  // namespace quarterturn::share
