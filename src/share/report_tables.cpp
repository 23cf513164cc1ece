#include "share/report_tables.hpp"

#include "rules/topic.hpp"
#include "share/csv.hpp"

namespace quarterturn::share {
namespace {

CsvCell mark_cell(const std::optional<journal::Mark>& mark) {
    if (!mark || !mark->value) return std::monostate{};
    return std::int64_t{*mark->value};
}

CsvCell percent_cell(const RoleScore& role) {
    return role.own > 0 ? csv_number(role.score.percent, 1) : CsvCell{};
}

std::string source_of(const SegmentView& hold) {
    if (hold.pose_by_person) return "person";
    if (hold.now.pose_source == posing::PoseSource::body) return "body";
    return hold.now.pose_source == posing::PoseSource::order ? "order" : "";
}

void add_hold(CsvTable& table, const SessionView& view, const ClipView& clip, const SegmentView& hold) {
    const posing::Segment& now = hold.now;
    const PoseView* pose = now.pose ? view.find_pose(*now.pose) : nullptr;
    const bool in_cm = clip.analysis->height_cm.has_value();
    const std::optional<double> none;
    table.add({clip.name, now.pose.value_or(""), pose != nullptr ? pose->title : "", CsvNumber{now.start_s, 3},
               CsvNumber{now.end_s, 3}, CsvNumber{now.duration_s(), 3},
               csv_number(pose != nullptr ? pose->target_hold_s : none, 1), csv_number(now.stillness.value, 4),
               csv_number(in_cm ? now.sway.rms.value : none, 2), csv_number(in_cm ? none : now.sway.rms.value, 3),
               csv_number(now.twist.range.value, 1), csv_number(now.twist.rms.value, 1),
               csv_number(now.facing_deg.value, 1), CsvNumber{now.confidence, 2}, CsvNumber{now.pose_confidence, 2},
               source_of(hold), std::string{clip.analysis->method == posing::Method::motion ? "motion" : "landmarks"},
               std::string{hold.corrected ? "yes" : "no"}});
}

void add_notes(CsvTable& table, const std::vector<NoteView>& notes) {
    for (const NoteView& view : notes) {
        const journal::Note& note = view.note;
        table.add({view.clip_name, csv_number(view.start_s, 3), csv_number(view.end_s, 3), view.pose,
                   std::string{rules::topic_id(note.topic)}, std::string{journal::role_id(note.author.role)},
                   note.author.name, std::string{note.done ? "yes" : "no"}, note.text});
    }
}

}  // namespace

std::string holds_table(const SessionView& view) {
    CsvTable table({"clip", "pose", "pose_title", "start_s", "end_s", "hold_s", "goal_s",
                    "stillness_body_heights_per_s", "sway_rms_cm", "sway_rms_pct", "twist_range_deg", "twist_rms_deg",
                    "facing_deg", "hold_confidence", "pose_confidence", "pose_source", "method",
                    "corrected_by_a_person"});
    for (const ClipView& clip : view.clips) {
        if (!clip.clip.counts || !clip.analysis) continue;
        for (const SegmentView& segment : clip.segments) {
            if (segment.is_hold()) add_hold(table, view, clip, segment);
        }
    }
    return table.text();
}

std::string checklist_records(const SessionView& view) {
    CsvTable table({"pose", "item", "text", "weight", "measured", "unit", "limit", "kept_to", "mark_measured",
                    "mark_athlete", "mark_coach", "why_not_measured"});
    for (const PoseView& pose : view.poses) {
        for (const ItemView& line : pose.items) {
            const std::optional<double> measured = line.check ? line.check->value.value : std::nullopt;
            CsvCell met;
            if (line.check && line.check->met) met = std::string{*line.check->met ? "yes" : "no"};
            table.add({pose.pose, line.item.id, line.item.text, CsvNumber{line.item.weight, 2}, csv_number(measured, 3),
                       line.limit ? line.limit->unit : "",
                       csv_number(line.limit ? std::optional{line.limit->value} : std::nullopt, 3), met,
                       mark_cell(line.program), mark_cell(line.athlete), mark_cell(line.coach),
                       line.check ? line.check->value.reason : ""});
        }
    }
    return table.text();
}

std::string notes_table(const SessionView& view) {
    CsvTable table({"clip", "start_s", "end_s", "pose", "topic", "role", "author", "done", "text"});
    for (const PoseView& pose : view.poses) add_notes(table, pose.notes);
    add_notes(table, view.notes);
    return table.text();
}

std::string sessions_table(const SeasonView& view) {
    CsvTable table({"date", "date_guessed", "days_out", "weeks_out", "pose", "pose_title", "hold_s", "goal_s",
                    "stillness_body_heights_per_s", "sway_rms_cm", "sway_rms_pct", "twist_rms_deg", "score_athlete_pct",
                    "score_coach_pct", "score_measured_pct", "items_marked_athlete", "items_marked_coach",
                    "items_measured", "items"});
    const std::optional<double> none;
    for (const SessionPoint& session : view.sessions) {
        for (std::size_t i = 0; i < view.poses.size(); ++i) {
            const PosePoint& point = session.poses[i];
            table.add({format_date(session.date), std::string{session.date_guessed ? "yes" : "no"},
                       std::int64_t{session.days_out}, std::int64_t{weeks_out(session.date, view.season.show_date)},
                       view.poses[i].pose, view.poses[i].title, csv_number(point.hold_s, 3),
                       CsvNumber{view.poses[i].target_hold_s, 1}, csv_number(point.stillness, 4),
                       csv_number(session.sway_in_pct ? none : point.sway_rms, 2),
                       csv_number(session.sway_in_pct ? point.sway_rms : none, 3), csv_number(point.twist_rms_deg, 1),
                       percent_cell(point.athlete), percent_cell(point.coach), percent_cell(point.program),
                       std::int64_t{point.athlete.score.marked}, std::int64_t{point.coach.score.marked},
                       std::int64_t{point.program.score.marked}, std::int64_t{point.program.score.items}});
        }
    }
    return table.text();
}

}  // namespace quarterturn::share
