#include "share/season_charts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "share/chart.hpp"
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
        const std::string words = when_words(session) + ": " +
                                  (held                    ? seconds_words(*held)
                                   : session.is_measured() ? "not held"
                                                           : "nothing measured");
        series.points.push_back({static_cast<double>(session.days_out), held, words});
        chart.words += " " + words + ".";
    }
    chart.series.push_back(std::move(series));
    return draw(chart);
}

}  // namespace

Html hold_charts(const SeasonView& view) {
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

namespace {

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

}  // namespace

Html score_chart(const SeasonView& view) {
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
    html.element(
        "p",
        "A person's score counts the measured items with the program's marks until that person gives one of their own.",
        {{"class", "quiet"}});
    return html.close();
}

}  // namespace quarterturn::share
