#include "share/report_page.hpp"

#include <fmt/format.h>

#include "share/colours.hpp"
#include "share/report_style.hpp"
#include "share/turn_dial.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

// Sources of the cautions: MacDougall et al. 1985 (J Appl Physiol 58:785) for blood pressure under straining, Escalante
// et al. 2021 (BMC Sports Sci Med Rehabil 13:68) for water and salt before a show; the rest is common practice.
constexpr const char* caution_lines[] = {
    "Stop and sit down if you feel dizzy, faint, sick or short of breath, or if your chest hurts or your heart races. "
    "Get "
    "help if it does not pass quickly.",
    "Keep breathing in long, hard holds. Straining with a closed throat drives blood pressure up sharply; with high "
    "blood "
    "pressure, heart or eye disease, a hernia or in pregnancy, ask your physician first.",
    "Late in a diet, with little water or salt, cramp and fainting come sooner. Cutting water or salt can do harm, and "
    "nothing on this page can see how dry or tired you are.",
    "Stand up slowly, clear the floor, and practise in heels with something near to hold.",
    "The numbers are about posing. They say nothing about what a body is worth.",
    "This is not medical advice: your coach and your physician decide, not this page."};

void add_own_part(std::vector<Fact>& list, const char* name, const RoleScore& role) {
    if (role.own == 0) {
        list.push_back({name, "\u2013", "no marks yet"});
        return;
    }
    list.push_back({name, percent_words(role.score),
                    fmt::format("{} of {} items marked, {} of them by the {}", role.score.marked, role.score.items,
                                role.own, std::string_view{name} == "Score, coach" ? "coach" : "athlete")});
}

}  // namespace

std::string page(const std::string& title, const Html& body) {
    Html html;
    html.unescaped("<!DOCTYPE html>\n");
    html.open("html", {{"lang", "en"}}).open("head");
    html.lone("meta", {{"charset", "utf-8"}});
    html.lone("meta", {{"http-equiv", "Content-Security-Policy"},
                       {"content", "default-src 'none'; img-src data:; style-src 'unsafe-inline'"}});
    html.lone("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
    html.lone("meta", {{"name", "referrer"}, {"content", "no-referrer"}});
    html.element("title", title);
    html.open("style").unescaped(theme_style()).unescaped(report_style()).close();
    html.close().open("body").add(body);
    html.open("footer")
        .element("p", "Made with quarterturn. This page holds everything it shows and asks nothing of the network.")
        .close();
    return html.markup();
}

Html opening(const std::string& above, const std::string& title, const std::string& below) {
    Html html;
    html.open("header").open("div", {{"class", "turns"}});
    for (const double facing : {0.0, 90.0, 180.0, -90.0}) html.add(turn_dial(facing));
    html.close();
    html.element("p", above, {{"class", "above"}, {"dir", "auto"}});
    html.element("h1", title, {{"dir", "auto"}}).element("p", below, {{"class", "below"}, {"dir", "auto"}}).close();
    return html;
}

Html cautions() {
    Html html;
    html.open("section", {{"class", "cautions"}, {"aria-labelledby", "care"}});
    html.element("h2", "Take care", {{"id", "care"}}).open("ul");
    for (const char* line : caution_lines) html.element("li", line);
    return html.close().close();
}

Html how_numbers_were_had(bool motion_alone, bool landmarks) {
    Html html;
    html.open("section", {{"class", "how"}, {"aria-labelledby", "how"}});
    html.element("h2", "How the numbers were had", {{"id", "how"}}).open("ul");
    html.element("li",
                 "A hold is a stretch of at least one second in which one posture is kept. Of several holds of a pose "
                 "the longest counts.");
    if (motion_alone)
        html.element("li",
                     "Where motion alone was measured, the program sees how much of the picture moves, not the body: "
                     "it knows hold times, "
                     "guesses the pose from the order in which poses are called, and cannot tell twist from sway.");
    if (landmarks)
        html.element("li",
                     "Where the joints of the body were found, twist is the change of the shoulder line against the "
                     "hips since the hold's "
                     "first steady picture, and sway the sideways way of the hips. Both come from one camera and are "
                     "estimates.");
    html.element("li",
                 "Marks go from 0 to 4. A score is the weighted mean of the marks in percent, shown with how many "
                 "items are marked. Measured "
                 "items are marked by the program until a person gives a mark of their own; both stay.");
    html.element("li", "Goals for hold times are the athlete's own. Advice on how long to hold varies widely.");
    html.element("li", "What could not be measured is left out and said so. It never counts as zero.");
    return html.close().close();
}

Html facts(const std::vector<Fact>& list) {
    Html html;
    html.open("dl", {{"class", "facts"}});
    for (const Fact& fact : list) {
        html.open("div").element("dt", fact.name).open("dd").element("span", fact.value, {{"class", "figure"}});
        if (!fact.more.empty()) html.text(" ").element("span", fact.more, {{"class", "more"}});
        html.close().close();
    }
    return html.close();
}

std::vector<Fact> score_facts(const RoleScore& athlete, const RoleScore& coach, const RoleScore& program) {
    std::vector<Fact> list;
    add_own_part(list, "Score, athlete", athlete);
    add_own_part(list, "Score, coach", coach);
    if (program.own > 0)
        list.push_back({"Measured items", percent_words(program.score),
                        fmt::format("{} of {} items could be measured", program.score.marked, program.score.items)});
    return list;
}

}  // namespace quarterturn::share
