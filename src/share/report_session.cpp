#include "share/report_session.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "share/report_page.hpp"
#include "share/report_pose.hpp"
#include "share/season_charts.hpp"
#include "share/turn_dial.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

int notes_to_do(const SessionView& view) {
    const auto open = [](const NoteView& note) { return !note.note.done; };
    auto count = std::count_if(view.notes.begin(), view.notes.end(), open);
    for (const PoseView& pose : view.poses) count += std::count_if(pose.notes.begin(), pose.notes.end(), open);
    return static_cast<int>(count);
}

Html in_short(const SessionView& view) {
    int called = 0, held = 0, reached = 0;
    for (const PoseView& pose : view.poses) {
        if (pose.calls == 0) continue;
        ++called;
        held += pose.longest ? 1 : 0;
        reached += std::string_view{verdict_of(view, pose).kind} == "reached" ? 1 : 0;
    }
    std::vector<Fact> list{{"Poses held", fmt::format("{} of {}", held, called), "called poses"},
                           {"Goals reached", fmt::format("{} of {}", reached, called), "by the longest hold"}};
    for (Fact& fact : score_facts(view.athlete, view.coach, view.program)) list.push_back(std::move(fact));
    list.push_back({"Notes to do", fmt::format("{}", notes_to_do(view)), ""});
    Html html;
    html.open("section", {{"aria-labelledby", "short"}}).element("h2", "In short", {{"id", "short"}}).add(facts(list));
    return html.close();
}

/// One bar per pose, all to the same scale, with a stroke at the goal.
Html at_a_glance(const SessionView& view) {
    double longest = 1;
    for (const PoseView& pose : view.poses)
        longest = std::max({longest, view.longest_s(pose).value_or(0), pose.target_hold_s.value_or(0)});
    Html html;
    html.open("section", {{"aria-labelledby", "glance"}}).element("h2", "Hold times", {{"id", "glance"}});
    html.open("ul", {{"class", "glance"}});
    for (const PoseView& pose : view.poses) {
        const std::optional<double> held = view.longest_s(pose);
        const Verdict verdict = verdict_of(view, pose);
        html.open("li", {{"class", verdict.kind}}).add(turn_dial(pose.facing_deg));
        html.element("a", pose.title, {{"href", "#pose-" + pose.pose}}).open("span", {{"class", "length"}});
        if (held) html.text(seconds_words(*held));
        if (held && pose.target_hold_s) html.text(fmt::format(", goal {:g}\u00A0s", *pose.target_hold_s));
        html.text(held ? " \u00B7 " : "").element("span", verdict.words, {{"class", "verdict"}}).close();
        html.open("div", {{"class", "track"}, {"aria-hidden", "true"}});
        if (held)
            html.element("div", "",
                         {{"class", "fill"}, {"style", fmt::format("width:{:.1f}%", 100 * *held / longest)}});
        if (pose.target_hold_s)
            html.element(
                "div", "",
                {{"class", "goal-mark"}, {"style", fmt::format("left:{:.1f}%", 100 * *pose.target_hold_s / longest)}});
        html.close().close();
    }
    html.close().element("p", "The stroke across a bar is the goal.", {{"class", "quiet"}});
    return html.close();
}

std::string steps_words(const posing::Segment& segment) {
    if (segment.steps) return value_words(*segment.steps, "steps");
    return segment.steps_reason.empty() ? "steps not counted"
                                        : fmt::format("steps not counted ({})", segment.steps_reason);
}

std::string way_words(const posing::Segment& segment) {
    std::string words = seconds_words(segment.duration_s());
    if (segment.kind == posing::SegmentKind::walk) {
        if (segment.cadence_per_min.value)
            words += fmt::format(", {:.0f} steps a minute", *segment.cadence_per_min.value);
        return words + ", " + steps_words(segment);
    }
    constexpr double least_turn_deg = 15;  // as docs/measurement.md: what stays below it is no turn
    if (segment.turn_deg.value && std::abs(*segment.turn_deg.value) < least_turn_deg) {
        words += ", without a turn";
    } else if (segment.turn_deg.value) {
        words += fmt::format(", turned {:.0f}° to the {}", std::abs(*segment.turn_deg.value),
                             *segment.turn_deg.value >= 0 ? "right" : "left");
    } else if (!segment.turn_deg.reason.empty()) {
        words += fmt::format(", turn not measured ({})", segment.turn_deg.reason);
    }
    return words +
           (segment.steps || segment.steps_reason != segment.turn_deg.reason ? ", " + steps_words(segment) : "");
}

/// Transitions and walks of a clip in time; empty when there are none.
Html ways_of(const SessionView& view, const ClipView& clip) {
    Html rows;
    std::string before = "the start";
    for (std::size_t i = 0; i < clip.segments.size(); ++i) {
        const posing::Segment& segment = clip.segments[i].now;
        const PoseView* pose = segment.pose ? view.find_pose(*segment.pose) : nullptr;
        if (segment.kind == posing::SegmentKind::hold) before = pose != nullptr ? pose->title : "a hold without a name";
        const bool walk = segment.kind == posing::SegmentKind::walk;
        if (!walk && segment.kind != posing::SegmentKind::transition) continue;
        rows.open("tr").element("td", clock_words(segment.start_s), {{"class", "number"}});
        rows.element("th", walk ? "Walk" : "After " + before, {{"scope", "row"}})
            .element("td", way_words(segment))
            .close();
    }
    return rows;
}

Html between_poses(const SessionView& view) {
    Html html, tables;
    for (const ClipView& clip : view.clips) {
        const Html rows = clip.clip.counts ? ways_of(view, clip) : Html{};
        if (rows.empty()) continue;
        tables.open("table").element("caption", clip.name, {{"dir", "auto"}}).open("thead").open("tr");
        tables.element("th", "Time", {{"scope", "col"}, {"class", "number"}})
            .element("th", "Where", {{"scope", "col"}});
        tables.element("th", "What was measured", {{"scope", "col"}}).close().close();
        tables.open("tbody").add(rows).close().close();
    }
    if (tables.empty()) return html;
    html.open("section", {{"aria-labelledby", "between"}}).element("h2", "Between the poses", {{"id", "between"}});
    return html.add(tables).close();
}

Html rest(const SessionView& view) {
    Html html;
    if (!view.unnamed.empty()) {
        html.open("section", {{"aria-labelledby", "unnamed"}})
            .element("h2", "Holds without a pose", {{"id", "unnamed"}});
        html.open("ul", {{"class", "stands"}});
        for (const HoldPlace& place : view.unnamed) {
            const posing::Segment& hold = view.hold(place).now;
            html.element("li", fmt::format("{} from {} in {}{}", seconds_words(hold.duration_s()),
                                           clock_words(hold.start_s), view.clips[place.clip].name,
                                           hold.pose_reason.empty() ? "." : ": " + hold.pose_reason + "."));
        }
        html.close().close();
    }
    if (!view.notes.empty()) {
        html.open("section", {{"aria-labelledby", "notes"}}).element("h2", "More notes", {{"id", "notes"}});
        html.add(note_list(view.notes)).close();
    }
    return html;
}

std::string facts_line(const SessionView& view) {
    std::string line =
        view.rule_set.title + " \u00B7 " + weeks_words(days_between(view.session.date, view.season.show_date));
    const auto counting =
        std::count_if(view.clips.begin(), view.clips.end(), [](const ClipView& clip) { return clip.clip.counts; });
    line += fmt::format(" \u00B7 {} {}", counting, counting == 1 ? "clip" : "clips");
    if (view.session.heel_height_cm && *view.session.heel_height_cm > 0)
        line += fmt::format(" \u00B7 heels {:g}\u00A0cm", *view.session.heel_height_cm);
    return line;
}

}  // namespace

Html warning_section(const SessionView& view) {
    Html html;
    if (view.warnings.empty()) return html;
    html.open("section", {{"aria-labelledby", "first"}}).element("h2", "Read this first", {{"id", "first"}});
    html.open("ul", {{"class", "warnings"}});
    for (const std::string& warning : view.warnings) html.element("li", warning);
    return html.close().close();
}

Html pose_sections(const SessionView& view, const PoseStills& stills) {
    Html html;
    for (const PoseView& pose : view.poses) {
        const auto still = stills.find(pose.pose);
        html.add(pose_section(view, pose, still == stills.end() ? std::nullopt : std::optional{still->second}));
    }
    return html;
}

std::string session_page(const SessionView& view, const PoseStills& stills, const SeasonView* season) {
    const std::string guessed = view.session.date_is_guessed() ? " (guessed)" : "";
    const std::string title = "Practice on " + date_words(view.session.date) + guessed;
    std::string above = to_utf8(view.season.title);
    if (!view.athlete_name.empty()) above = view.athlete_name + " \u00B7 " + above;
    Html html;
    html.add(opening(above, title, facts_line(view))).open("main").add(warning_section(view));
    html.add(in_short(view)).add(at_a_glance(view)).add(pose_sections(view, stills));
    html.add(between_poses(view)).add(rest(view));
    const auto measured = [](const SessionPoint& session) { return session.is_measured(); };
    if (season != nullptr && std::count_if(season->sessions.begin(), season->sessions.end(), measured) > 1)
        html.add(hold_charts(*season)).add(score_chart(*season));
    bool motion = false, landmarks = false;
    for (const ClipView& clip : view.clips) {
        if (!clip.clip.counts || !clip.analysis) continue;
        (clip.analysis->method == posing::Method::motion ? motion : landmarks) = true;
    }
    html.add(cautions()).add(how_numbers_were_had(motion, landmarks)).close();
    return page(title, html);
}

}  // namespace quarterturn::share
