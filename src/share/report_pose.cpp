#include "share/report_pose.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "rules/topic.hpp"
#include "share/checklist_table.hpp"
#include "share/hold_measures.hpp"
#include "share/report_page.hpp"
#include "share/turn_dial.hpp"
#include "share/words.hpp"

namespace quarterturn::share {
namespace {

void add_still(Html& html, const SessionView& view, const PoseView& pose, const Still& still) {
    const ClipView& clip = view.clips[pose.steadiest->clip];
    const posing::Segment& hold = view.hold(*pose.steadiest).now;
    const double second = true_seconds(clip.analysis->clip, {hold.steadiest_pts, clip.analysis->clip.time_base});
    const std::string place = fmt::format("{} in {}", clock_words(second), clip.name);
    html.open("figure");
    if (!still.lines.empty()) {
        const std::string id = "lines-" + pose.pose;
        html.lone("input", {{"type", "checkbox"}, {"id", id}, {"class", "lines"}, {"checked", ""}});
        html.element("label", "Body lines and plumb line", {{"for", id}});
    }
    html.open("div", {{"class", "picture"}});
    html.lone("img", {{"src", still.data_uri},
                      {"width", fmt::format("{}", still.width)},
                      {"height", fmt::format("{}", still.height)},
                      {"alt", fmt::format("{}, the picture at {}", pose.title, place)}});
    html.unescaped(still.lines).close();
    html.open("figcaption").text("The steadiest moment: ").element("span", place, {{"dir", "auto"}}).close();
    html.close();
}

void add_told(Html& html, const SessionView& view, const PoseView& pose) {
    html.open("div", {{"class", "told"}}).open("ul", {{"class", "stands"}});
    for (const std::string& line : what_stands_out(view, pose)) html.element("li", line);
    html.close();
    if (pose.longest) {
        const Html curves = hold_curves(view.clips[pose.longest->clip], view.hold(*pose.longest).now);
        if (!curves.empty()) {
            html.element("h3", "Twist and sway in the longest hold");
            html.open("div", {{"class", "curves"}}).add(curves).close();
        }
    }
    html.close();
}

/// Why a measured item has no entry at all.
std::string why_not_measured(const SessionView& view, const PoseView& pose) {
    if (!pose.longest) return "the pose was not held";
    const SegmentView& hold = view.hold(*pose.longest);
    if (view.clips[pose.longest->clip].analysis->method == posing::Method::motion)
        return "motion alone does not show the joints";
    return hold.corrected ? "a person changed this hold" : "";
}

void add_origin(Html& html, const SessionView& view, const PoseView& pose) {
    if (!pose.longest) return;
    const ClipView& clip = view.clips[pose.longest->clip];
    const SegmentView& hold = view.hold(*pose.longest);
    std::string words = origin_words(hold, clip.analysis->method);
    if (pose.holds.size() > 1)
        words += fmt::format(" It is the longest of {} holds of this pose; it begins {} into {}.", pose.holds.size(),
                             clock_words(hold.now.start_s), clip.name);
    const std::string absent = absent_words(hold.now);
    if (!absent.empty()) words += " " + absent;
    html.element("p", words, {{"class", "origin"}});
}

}  // namespace

Verdict verdict_of(const SessionView& view, const PoseView& pose) {
    const std::optional<double> held = view.longest_s(pose);
    if (!held) return {"not held", ""};
    if (!pose.target_hold_s) return {"not called", ""};
    if (*held >= *pose.target_hold_s) return {"goal reached", "reached"};
    return {seconds_words(*pose.target_hold_s - *held) + " short", "short"};
}

Html note_list(const std::vector<NoteView>& notes) {
    Html html;
    if (notes.empty()) return html;
    html.open("ul", {{"class", "notes"}});
    for (const NoteView& view : notes) {
        const journal::Note& note = view.note;
        html.open("li", {{"class", note.done ? "done" : "to-do"}}).open("p", {{"class", "from"}});
        html.element("b", note.done ? "Done" : "To do");
        html.text(fmt::format(" \u00B7 {} \u00B7 {}", rules::topic_title(note.topic), role_words(note.author.role)));
        if (!note.author.name.empty()) html.text(" ").element("span", note.author.name, {{"dir", "auto"}});
        html.text(" \u00B7 " + note_place_words(view)).close();
        html.element("p", trimmed(note.text), {{"class", "said"}, {"dir", "auto"}}).close();
    }
    return html.close();
}

Html pose_section(const SessionView& view, const PoseView& pose, const std::optional<Still>& still) {
    const Verdict verdict = verdict_of(view, pose);
    const std::string id = "pose-" + pose.pose;
    Html html;
    html.open("section",
              {{"class", still ? "pose with-still" : "pose"}, {"id", id}, {"aria-labelledby", id + "-title"}});
    html.open("div", {{"class", fmt::format("pose-head {}", verdict.kind)}}).add(turn_dial(pose.facing_deg));
    html.element("h2", pose.title, {{"id", id + "-title"}})
        .element("span", verdict.words, {{"class", "verdict"}})
        .close();
    if (still) add_still(html, view, pose, *still);
    add_told(html, view, pose);
    html.open("div", {{"class", "list"}});
    if (!pose.items.empty()) html.add(checklist_table(pose, why_not_measured(view, pose)));
    if (!pose.notes.empty()) html.element("h3", "Notes").add(note_list(pose.notes));
    add_origin(html, view, pose);
    return html.close().close();
}

}  // namespace quarterturn::share
