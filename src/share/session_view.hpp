#pragma once
/// One session as people look at it: what was measured, what was said and what was marked, brought together as plain
/// data. The command line, the report and the window all show this; none of them puts it together again.
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "journal/library.hpp"
#include "journal/score.hpp"
#include "posing/analysis.hpp"
#include "rules/rule_set.hpp"
#include "share/confirmed_segments.hpp"

namespace quarterturn::share {

/// By clip fingerprint. A clip that was not analysed is not in it.
using Analyses = std::map<std::string, std::shared_ptr<const posing::Analysis>, std::less<>>;

/// A clip's analysis, e.g. cached_analysis (measure.hpp); absent when there is none.
using AnalysisOf = std::function<std::optional<posing::Analysis>(const journal::Clip&)>;

/// What there is for a session's clips.
[[nodiscard]] Analyses analyses_of_session(const journal::Library& library, std::string_view session,
                                           const AnalysisOf& analysis_of);
/// What there is for all clips of a season.
[[nodiscard]] Analyses analyses_of_season(const journal::Library& library, std::string_view season,
                                          const AnalysisOf& analysis_of);

struct ClipView {
    journal::Clip clip;
    std::string name;                                  ///< file name as added, well-formed UTF-8
    std::shared_ptr<const posing::Analysis> analysis;  ///< nullptr: not analysed
    std::vector<SegmentView> segments;                 ///< ordered; empty when not analysed
};

/// A hold of SessionView::clips.
struct HoldPlace {
    std::size_t clip = 0, segment = 0;
    bool operator==(const HoldPlace&) const = default;
};

struct NoteView {
    journal::Note note;
    std::string clip_name;                 ///< empty when it is about the whole session
    std::optional<double> start_s, end_s;  ///< true seconds from the clip's first picture; absent until it is analysed
    std::string pose;                      ///< said in the note, else of the hold in which it lies; may be empty
};

/// One line of a pose's checklist. The three marks stand beside each other.
struct ItemView {
    rules::ChecklistItem item;
    std::optional<rules::Limit> limit;
    /// The measured value in the pose's longest hold (steps: on the way into it); absent where there is none at all.
    std::optional<posing::Check> check;
    std::optional<journal::Mark> athlete, coach, program;
};

/// A score in the eyes of one role. Measured items count with the program's mark until that role gives its own.
struct RoleScore {
    journal::Score score;
    int own = 0;  ///< marks the role gave itself (for the program: marks it filled in)
};

struct PoseView {
    std::string pose;
    std::string title;
    int calls = 0;                     ///< how often the rule set calls it; 0: shown but not asked for
    std::optional<double> facing_deg;  ///< the catalogue's; absent where the side is free
    std::optional<double> target_hold_s;
    std::vector<HoldPlace> holds;        ///< of the clips that count, in order of the clips
    std::optional<HoldPlace> longest;    ///< absent when it was not held
    std::optional<HoldPlace> steadiest;  ///< by stillness, then (where none is known) the longest
    std::vector<ItemView> items;
    RoleScore athlete, coach, program;
    std::vector<NoteView> notes;  ///< in order of time
};

struct SessionView {
    journal::Session session;
    journal::Season season;
    std::string athlete_name;
    int weeks_out = 0;
    std::optional<double> height_cm;  ///< standing, heels included
    rules::RuleSet rule_set;
    std::vector<ClipView> clips;     ///< all takes; Clip::counts says which are in the numbers
    std::vector<PoseView> poses;     ///< called ones in call order, then others that were held
    std::vector<HoldPlace> unnamed;  ///< holds of counting clips that are no known pose
    std::vector<NoteView> notes;     ///< those that belong to no pose
    RoleScore athlete, coach, program;
    std::vector<std::string> warnings;  ///< plain sentences: guessed date, clips without analysis, film warnings

    [[nodiscard]] const SegmentView& hold(const HoldPlace& place) const;
    [[nodiscard]] const PoseView* find_pose(std::string_view pose) const;
    [[nodiscard]] std::optional<double> longest_s(const PoseView& pose) const;
};

/// @param rule_set  of the session's season (rule_set_of in measure.hpp)
/// @error not_found: no such session
[[nodiscard]] Result<SessionView> session_view(const journal::Library& library, const rules::RuleSet& rule_set,
                                               const Analyses& analyses, std::string_view session);

/// The program's own marks for a session, from the measured values (rules::mark_for): what a caller may keep in the
/// journal. Items without a measured value have none.
[[nodiscard]] std::vector<journal::Mark> measured_marks(const SessionView& view);

}  // namespace quarterturn::share
