#pragma once
/// A season as people look at it: the same numbers of every session, in order, towards the show.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "share/session_view.hpp"

namespace quarterturn::share {

struct SeasonPose {
    std::string pose;
    std::string title;
    std::optional<double> facing_deg;
    double target_hold_s = 0;
};

/// One pose in one session.
struct PosePoint {
    std::optional<double> hold_s;                   ///< of the longest hold; absent when it was not held
    std::optional<double> stillness;                ///< body heights per second in the steadiest hold
    std::optional<double> sway_rms, twist_rms_deg;  ///< in the longest hold; sway in cm or (sway_in_pct) % of height
    RoleScore athlete, coach, program;
};

struct SessionPoint {
    std::string session;  ///< id
    Date date{};
    bool date_guessed = false;
    std::string title;
    int days_out = 0;  ///< to the show; negative after it
    bool sway_in_pct = false;
    std::vector<PosePoint> poses;  ///< one for each SeasonView::poses
    RoleScore athlete, coach, program;
    int notes_to_do = 0, notes_done = 0;
    bool motion_alone = false, landmarks = false;  ///< how its clips were measured
    int clips = 0, clips_not_analysed = 0;         ///< of those that count
    /// Whether anything of it is measured; without, an absent hold time says nothing.
    [[nodiscard]] bool is_measured() const { return clips > clips_not_analysed; }
};

struct SeasonView {
    journal::Season season;
    std::string athlete_name;
    rules::RuleSet rule_set;
    std::vector<SeasonPose> poses;       ///< called ones in call order
    std::vector<SessionPoint> sessions;  ///< by date
};

/// @param analyses  of all the season's clips
/// @error not_found: no such season
[[nodiscard]] Result<SeasonView> season_view(const journal::Library& library, const rules::RuleSet& rule_set,
                                             const Analyses& analyses, std::string_view season);

}  // namespace quarterturn::share
