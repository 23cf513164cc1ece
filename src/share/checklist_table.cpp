#include "share/checklist_table.hpp"

#include <fmt/format.h>

#include "share/words.hpp"

namespace quarterturn::share {
namespace {

void add_mark(Html& html, const std::optional<journal::Mark>& mark) {
    html.open("td", {{"class", "mark"}});
    if (mark && mark->value) {
        html.element("b", fmt::format("{}", *mark->value));
        std::string pips;
        for (int i = 0; i < 4; ++i) pips += i < *mark->value ? "\u25CF" : "\u25CB";
        html.element("span", pips, {{"class", "pips"}, {"aria-hidden", "true"}});
    } else {
        html.element("span", "\u2013", {{"class", "quiet"}, {"aria-hidden", "true"}});
        html.element("span", "not marked", {{"class", "unseen"}});
    }
    html.close();
}

/// Below the item's text: the value and the limit, or that there is none and why.
void add_measure(Html& html, const ItemView& line) {
    if (!line.item.measured) return;
    html.open("span", {{"class", "measure"}});
    if (line.check && line.check->value.value) {
        const std::string unit = line.limit ? line.limit->unit : line.check->unit;
        html.text(value_words(*line.check->value.value, unit));
        if (line.limit) html.text(", " + limit_words(*line.limit));
        if (line.limit && line.check->met) {
            const bool met = *line.check->met;
            html.text(": ").element("span", met ? "kept to" : "not yet", {{"class", met ? "kept" : "missed"}});
        }
    } else if (line.check && !line.check->value.reason.empty()) {
        html.text("not measured: " + line.check->value.reason);
    } else {
        html.text("not measured");
    }
    html.close();
}

void add_score(Html& html, const RoleScore& role) {
    html.open("td", {{"class", "mark"}}).text(role.own > 0 ? percent_words(role.score) : "\u2013");
    if (role.own > 0)
        html.element("span", fmt::format("{} of {}", role.score.marked, role.score.items), {{"class", "measure"}});
    html.close();
}

}  // namespace

Html checklist_table(const PoseView& pose, const std::string& why_not) {
    Html html;
    html.open("table").element("caption", "Checklist, marks from 0 to 4");
    html.open("thead").open("tr").element("th", "Item", {{"scope", "col"}});
    for (const char* who : {"Measured", "Athlete", "Coach"})
        html.element("th", who, {{"scope", "col"}, {"class", "mark"}});
    html.close().close().open("tbody");
    for (const ItemView& line : pose.items) {
        html.open("tr").open("th", {{"scope", "row"}}).text(line.item.text);
        add_measure(html, line);
        html.close();
        add_mark(html, line.program);
        add_mark(html, line.athlete);
        add_mark(html, line.coach);
        html.close();
    }
    html.close().open("tfoot").open("tr");
    html.open("th", {{"scope", "row"}}).text("Score");
    html.element("span", "items that count, of all", {{"class", "measure"}}).close();
    add_score(html, pose.program);
    add_score(html, pose.athlete);
    add_score(html, pose.coach);
    html.close().close().close();
    html.element("p", "A dash: not marked. Items with no number below them are for a person to mark.",
                 {{"class", "measure"}});
    if (!why_not.empty())
        html.element("p", fmt::format("Measured items without a value: {}.", why_not), {{"class", "measure"}});
    return html;
}

}  // namespace quarterturn::share
