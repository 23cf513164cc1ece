#include "share/session_view.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "share/pose_view.hpp"

namespace quarterturn::share {
namespace {

ClipView clip_view(const journal::Library& library, const journal::Clip& clip, const Analyses& analyses) {
    ClipView view{.clip = clip, .name = to_utf8(clip.original_name), .analysis = nullptr, .segments = {}};
    if (const auto found = analyses.find(clip.fingerprint()); found != analyses.end()) view.analysis = found->second;
    if (view.analysis) view.segments = confirmed_segments(*view.analysis, library.corrections_of(clip.fingerprint()));
    return view;
}

NoteView note_view(const journal::Note& note, const std::vector<ClipView>& clips) {
    NoteView view{.note = note, .clip_name = {}, .start_s = {}, .end_s = {}, .pose = note.pose.value_or("")};
    const auto clip = std::find_if(clips.begin(), clips.end(), [&](const ClipView& candidate) {
        return note.clip && candidate.clip.fingerprint() == *note.clip;
    });
    if (clip == clips.end()) return view;
    view.clip_name = clip->name;
    if (!note.moment || !clip->analysis) return view;
    const journal::ClipMoment& moment = *note.moment;
    view.start_s = true_seconds(clip->analysis->clip, {moment.start_pts, moment.base});
    if (moment.end_pts) view.end_s = true_seconds(clip->analysis->clip, {*moment.end_pts, moment.base});
    for (const SegmentView& segment : clip->segments) {
        const bool inside = *view.start_s >= segment.now.start_s && *view.start_s < segment.now.end_s;
        if (view.pose.empty() && inside && segment.is_hold()) view.pose = segment.now.pose.value_or("");
    }
    return view;
}

/// Notes in the order of the clips, then of time; those about the whole session last.
std::vector<NoteView> notes_of(const journal::Library& library, const SessionView& view) {
    std::vector<NoteView> notes;
    for (const journal::Note* note : library.notes_of_session(view.session.id))
        notes.push_back(note_view(*note, view.clips));
    const auto rank = [&](const NoteView& note) {
        const auto at = std::find_if(view.clips.begin(), view.clips.end(), [&](const ClipView& clip) {
            return note.note.clip && clip.clip.fingerprint() == *note.note.clip;
        });
        return std::pair{at - view.clips.begin(), note.note.moment ? note.note.moment->start_pts : -1};
    };
    std::stable_sort(notes.begin(), notes.end(),
                     [&](const NoteView& a, const NoteView& b) { return rank(a) < rank(b); });
    return notes;
}

void share_out_notes(std::vector<NoteView> notes, SessionView& view) {
    for (NoteView& note : notes) {
        const auto pose = std::find_if(view.poses.begin(), view.poses.end(),
                                       [&](const PoseView& candidate) { return candidate.pose == note.pose; });
        (pose == view.poses.end() ? view.notes : pose->notes).push_back(std::move(note));
    }
}

std::vector<std::string> warnings_of(const SessionView& view) {
    std::vector<std::string> warnings;
    if (view.session.date_is_guessed())
        warnings.emplace_back("The date is guessed from the file, because the film does not say when it was made.");
    const auto guessed = [](const SegmentView& hold) { return hold.now.pose_source == posing::PoseSource::order; };
    const auto any_guessed = [&](const ClipView& clip) {
        return clip.clip.counts && std::any_of(clip.segments.begin(), clip.segments.end(), guessed);
    };
    if (std::any_of(view.clips.begin(), view.clips.end(), any_guessed))
        warnings.emplace_back(
            "Which pose each hold is was guessed from the order in which poses are called. Look them over and correct "
            "what is wrong.");
    for (const ClipView& clip : view.clips) {
        if (!clip.clip.counts) continue;
        if (!clip.analysis)
            warnings.push_back(fmt::format("{} is not analysed yet, so it is not in the numbers.", clip.name));
        if (!clip.analysis) continue;
        for (const std::string& warning : clip.analysis->clip.warnings)
            warnings.push_back(fmt::format("{}: {}", clip.name, to_utf8(warning)));
    }
    return warnings;
}

}  // namespace

Analyses analyses_of_session(const journal::Library& library, std::string_view session, const AnalysisOf& analysis_of) {
    Analyses analyses;
    for (const journal::Clip* clip : library.clips_of(session)) {
        std::optional<posing::Analysis> analysis = analysis_of(*clip);
        if (analysis) analyses[clip->fingerprint()] = std::make_shared<const posing::Analysis>(std::move(*analysis));
    }
    return analyses;
}

Analyses analyses_of_season(const journal::Library& library, std::string_view season, const AnalysisOf& analysis_of) {
    Analyses analyses;
    for (const journal::Session* session : library.sessions_of(season))
        analyses.merge(analyses_of_session(library, session->id, analysis_of));
    return analyses;
}

const SegmentView& SessionView::hold(const HoldPlace& place) const {
    return clips.at(place.clip).segments.at(place.segment);
}

const PoseView* SessionView::find_pose(std::string_view pose) const {
    const auto found =
        std::find_if(poses.begin(), poses.end(), [&](const PoseView& candidate) { return candidate.pose == pose; });
    return found == poses.end() ? nullptr : &*found;
}

std::optional<double> SessionView::longest_s(const PoseView& pose) const {
    if (!pose.longest) return std::nullopt;
    return hold(*pose.longest).now.duration_s();
}

Result<SessionView> session_view(const journal::Library& library, const rules::RuleSet& rule_set,
                                 const Analyses& analyses, std::string_view session) {
    const journal::Session* found = library.find_session(session);
    if (found == nullptr) return Error{ErrorCode::not_found, fmt::format("There is no session {} here.", session)};
    const journal::Season* season = library.find_season(found->season);
    if (season == nullptr)
        return Error{ErrorCode::not_found, "The session's season is not in the library; `check` says what is missing."};
    SessionView view;
    view.session = *found;
    view.season = *season;
    view.athlete_name = to_utf8(library.athlete.name);
    view.weeks_out = weeks_out(found->date, season->show_date);
    view.height_cm = journal::standing_height_cm(library.athlete, *season, *found);
    view.rule_set = rule_set;
    for (const journal::Clip* clip : library.clips_of(session))
        view.clips.push_back(clip_view(library, *clip, analyses));
    add_poses(library, view);
    share_out_notes(notes_of(library, view), view);
    view.warnings = warnings_of(view);
    return view;
}

}  // namespace quarterturn::share
