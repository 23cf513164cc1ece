#include "share/season_view.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"

namespace quarterturn::share {
namespace {

PosePoint pose_point(const SessionView& view, const PoseView& pose) {
    PosePoint point{.hold_s = view.longest_s(pose),
                    .stillness = {},
                    .sway_rms = {},
                    .twist_rms_deg = {},
                    .athlete = pose.athlete,
                    .coach = pose.coach,
                    .program = pose.program};
    if (pose.steadiest) point.stillness = view.hold(*pose.steadiest).now.stillness.value;
    if (!pose.longest) return point;
    const posing::Segment& hold = view.hold(*pose.longest).now;
    point.sway_rms = hold.sway.rms.value;
    point.twist_rms_deg = hold.twist.rms.value;
    return point;
}

void count_notes(const std::vector<NoteView>& notes, SessionPoint& point) {
    for (const NoteView& note : notes) (note.note.done ? point.notes_done : point.notes_to_do) += 1;
}

SessionPoint session_point(const SessionView& view, const std::vector<SeasonPose>& poses) {
    SessionPoint point;
    point.session = view.session.id;
    point.date = view.session.date;
    point.date_guessed = view.session.date_is_guessed();
    point.title = to_utf8(view.session.title);
    point.days_out = days_between(view.session.date, view.season.show_date);
    for (const SeasonPose& pose : poses) {
        const PoseView* found = view.find_pose(pose.pose);
        point.poses.push_back(found != nullptr ? pose_point(view, *found) : PosePoint{});
    }
    point.athlete = view.athlete;
    point.coach = view.coach;
    point.program = view.program;
    count_notes(view.notes, point);
    for (const PoseView& pose : view.poses) count_notes(pose.notes, point);
    for (const ClipView& clip : view.clips) {
        if (!clip.clip.counts) continue;
        ++point.clips;
        point.clips_not_analysed += clip.analysis ? 0 : 1;
        if (clip.analysis)
            (clip.analysis->method == posing::Method::motion ? point.motion_alone : point.landmarks) = true;
        point.sway_in_pct = point.sway_in_pct || (clip.analysis && !clip.analysis->height_cm);
    }
    return point;
}

}  // namespace

Result<SeasonView> season_view(const journal::Library& library, const rules::RuleSet& rule_set,
                               const Analyses& analyses, std::string_view season) {
    const journal::Season* found = library.find_season(season);
    if (found == nullptr) return Error{ErrorCode::not_found, fmt::format("There is no season {} here.", season)};
    SeasonView view{.season = *found,
                    .athlete_name = to_utf8(library.athlete.name),
                    .rule_set = rule_set,
                    .poses = {},
                    .sessions = {}};
    std::vector<SessionView> sessions;
    for (const journal::Session* session : library.sessions_of(season)) {
        Result<SessionView> one = session_view(library, rule_set, analyses, session->id);
        if (!one) return one.error();
        sessions.push_back(std::move(one).value());
    }
    std::stable_sort(sessions.begin(), sessions.end(),
                     [](const SessionView& a, const SessionView& b) { return a.session.date < b.session.date; });
    for (const rules::PoseExpectation* pose : rule_set.called())
        view.poses.push_back({pose->pose, pose->title, {}, pose->target_hold_s});
    for (const SessionView& session : sessions) {
        for (SeasonPose& pose : view.poses) {
            const PoseView* same = session.find_pose(pose.pose);
            if (same != nullptr) pose.facing_deg = same->facing_deg;
        }
        view.sessions.push_back(session_point(session, view.poses));
    }
    return view;
}

}  // namespace quarterturn::share
