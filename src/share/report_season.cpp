#include "share/report_season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "base/text.hpp"
#include "share/chart.hpp"
#include "share/report_page.hpp"
#include "share/turn_dial.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

std::vector<int> days_of(const SeasonView& view) {
    std::vector<int> days;
    for (const SessionPoint& session : view.sessions) days.push_back(session.days_out);
    return days;
}

std::string when_words(const SessionPoint& session) {
    return fmt::format("{}{}, {}", date_words(session.date), session.date_guessed ? " (guessed)" : "",
                       weeks_words(session.days_out));
}

Html hold_chart(const SeasonView& view, std::size_t pose, double largest) {
    const SeasonPose& asked = view.poses[pose];
    Chart chart;
    chart.x = weeks_out_axis(days_of(view));
    chart.y = axis_from_zero("seconds held", largest);
    chart.goal = asked.target_hold_s;
    chart.goal_words = fmt::format("goal {:g} s", asked.target_hold_s);
    ChartSeries series{.name = asked.title, .style = 0, .points = {}};
    chart.words = fmt::format("{}: longest hold in seconds.", asked.title);
    for (const SessionPoint& session : view.sessions) {
        const std::optional<double> held = session.poses[pose].hold_s;
        const std::string words = when_words(session) + ": " + (held ? seconds_words(*held) : "not held");
        series.points.push_back({static_cast<double>(session.days_out), held, words});
        chart.words += " " + words + ".";
    }
    chart.series.push_back(std::move(series));
    return draw(chart);
}

Html hold_section(const SeasonView& view) {
    double largest = 1;
    for (const SeasonPose& pose : view.poses) largest = std::max(largest, pose.target_hold_s);
    for (const SessionPoint& session : view.sessions) {
        for (const PosePoint& pose : session.poses) largest = std::max(largest, pose.hold_s.value_or(0));
    }
    Html html;
    html.open("section", {{"aria-labelledby", "holds"}})
        .element("h2", "Hold times towards the show", {{"id", "holds"}});
    html.open("div", {{"class", "charts"}});
    for (std::size_t i = 0; i < view.poses.size(); ++i) {
        html.open("div")
            .open("h3")
            .add(turn_dial(view.poses[i].facing_deg))
            .element("span", view.poses[i].title)
            .close();
        html.add(hold_chart(view, i, largest)).close();
    }
    return html.close().close();
}

using RoleOf = const RoleScore& (*)(const SessionPoint&);

ChartSeries score_series(const SeasonView& view, const char* name, int style, RoleOf role_of) {
    ChartSeries series{.name = name, .style = style, .points = {}};
    for (const SessionPoint& session : view.sessions) {
        const RoleScore& role = role_of(session);
        const std::optional<double> percent = role.own > 0 ? role.score.percent : std::nullopt;
        series.points.push_back(
            {static_cast<double>(session.days_out), percent,
             fmt::format("{}, {}: {}", name, when_words(session), percent ? percent_words(role.score) : "not marked")});
    }
    return series;
}

Html score_section(const SeasonView& view) {
    Chart chart;
    chart.x = weeks_out_axis(days_of(view));
    chart.y = axis_from_zero("score, %", 100);
    const ChartSeries all[] = {
        score_series(view, "Athlete", 0, [](const SessionPoint& s) -> const RoleScore& { return s.athlete; }),
        score_series(view, "Coach", 1, [](const SessionPoint& s) -> const RoleScore& { return s.coach; }),
        score_series(view, "Measured items", 2, [](const SessionPoint& s) -> const RoleScore& { return s.program; })};
    chart.words = "Scores in percent.";
    for (const ChartSeries& series : all) {
        const bool any =
            std::any_of(series.points.begin(), series.points.end(), [](const ChartPoint& p) { return p.y; });
        if (!any) continue;
        for (const ChartPoint& point : series.points) chart.words += " " + point.words + ".";
        chart.series.push_back(series);
    }
    Html html;
    html.open("section", {{"aria-labelledby", "scores"}}).element("h2", "Scores towards the show", {{"id", "scores"}});
    if (chart.series.empty()) return html.element("p", "Nothing is marked yet.").close();
    chart.height = 240;
    html.add(legend(chart.series)).add(draw(chart));
    html.element("p",
                 "A person's score counts the measured items with the program's marks until that person gives her own.",
                 {{"class", "quiet"}});
    return html.close();
}

void add_row(Html& html, const SeasonView& view, const SessionPoint& session) {
    html.open("tr").open("th", {{"scope", "row"}}).text(date_words(session.date));
    html.element("span", (session.date_guessed ? "guessed, " : "") + weeks_words(session.days_out),
                 {{"class", "measure"}})
        .close();
    for (std::size_t i = 0; i < view.poses.size(); ++i) {
        const std::optional<double> held = session.poses[i].hold_s;
        html.element("td", held ? seconds_words(*held) : "\u2013", {{"class", "number"}});
    }
    for (const RoleScore* role : {&session.athlete, &session.coach, &session.program}) {
        html.open("td", {{"class", "number"}}).text(role->own > 0 ? percent_words(role->score) : "\u2013");
        if (role->own > 0)
            html.element("span", fmt::format("{} of {}", role->score.marked, role->score.items),
                         {{"class", "measure"}});
        html.close();
    }
    html.element("td", fmt::format("{}", session.notes_to_do), {{"class", "number"}}).close();
}

Html table_section(const SeasonView& view) {
    Html html;
    html.open("section", {{"aria-labelledby", "numbers"}}).element("h2", "The same in numbers", {{"id", "numbers"}});
    html.open("div", {{"class", "wide"}, {"tabindex", "0"}, {"role", "region"}, {"aria-labelledby", "numbers"}})
        .open("table");
    html.open("thead").open("tr").element("th", "Session", {{"scope", "col"}});
    for (const SeasonPose& pose : view.poses)
        html.element("th", pose.title, {{"scope", "col"}, {"class", "number fold"}});
    for (const char* name : {"Athlete", "Coach", "Measured", "Notes to do"})
        html.element("th", name, {{"scope", "col"}, {"class", "number fold"}});
    html.close().close().open("tbody");
    for (const SessionPoint& session : view.sessions) add_row(html, view, session);
    html.close().close().close();
    html.element("p",
                 "Hold times are those of the longest hold. Below a score: how many items were marked, of how many.",
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
        list.push_back({"Latest", weeks_words(last.days_out), date_words(last.date)});
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

std::string season_page(const SeasonView& view) {
    const std::string name = to_utf8(view.season.title);
    Html html;
    html.add(opening(view.athlete_name.empty() ? "The season" : view.athlete_name, name,
                     fmt::format("{} \u00B7 show on {}", view.rule_set.title, date_words(view.season.show_date))));
    html.open("main").add(season_facts(view));
    if (!view.sessions.empty()) html.add(hold_section(view)).add(score_section(view)).add(table_section(view));
    html.add(cautions()).add(how_numbers_were_had(false, false)).close();
    return page(name, html);
}

}  // namespace quarterturn::share
