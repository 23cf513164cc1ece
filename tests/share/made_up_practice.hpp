#pragma once
/// An invented season as rich as a real one: six sessions that get better, marks of both, notes with awkward text.
#include "share/made_up_season.hpp"

namespace quarterturn::test {

inline constexpr const char* hostile_note =
    "<script>document.title='ran';document.body.id='ran'</script><img src=x onerror=\"document.title='ran'\"> & "
    "\"quotes\"";

struct Practice {
    MadeUpSeason made = made_up_season();
    std::string last_session;
    std::string last_clip;
};

inline void mark_session(MadeUpSeason& made, const std::string& session, int week) {
    const char* poses[] = {"quarter_front", "quarter_left_side", "quarter_back", "quarter_right_side"};
    const char* items[] = {"knees_straight", "arms_clear", "hips_square", "face_calm", "hands_soft", "shoulders_level"};
    for (int p = 0; p < 4; ++p) {
        for (int i = 0; i < 6; ++i) {
            made.mark(session, poses[p], items[i], journal::Role::athlete, std::min(4, 2 + (week + i) / 3));
            if (week > 1 && i < 4)
                made.mark(session, poses[p], items[i], journal::Role::coach, std::min(4, 1 + (week + p) / 2));
        }
    }
}

/// @param film  a film to take stills from, for the last session; empty: none there
inline Practice made_up_practice(const std::string& film = "", posing::Method method = posing::Method::landmarks) {
    Practice practice;
    MadeUpSeason& made = practice.made;
    const char* days[] = {"2026-03-07", "2026-03-21", "2026-04-04", "2026-04-18", "2026-05-02", "2026-05-16"};
    for (int week = 0; week < 6; ++week) {
        const std::string session = made.add_session(days[week]);
        std::vector<HoldPlan> plan{{"quarter_front", 5.2 + 1.3 * week, 0.026 - 0.002 * week},
                                   {"quarter_left_side", 4.1 + 0.9 * week, 0.03 - 0.002 * week},
                                   {"quarter_back", 6.0 + 0.7 * week, 0.022},
                                   {nullptr, 3.4}};
        if (week != 2) plan.push_back({"quarter_right_side", 3.8 + 1.1 * week, 0.034 - 0.003 * week});
        plan.push_back({"quarter_front", 4.0 + week});
        practice.last_clip =
            made.add_clip(session, "morning " + std::string{days[week]} + ".mp4", plan, method, week == 5 ? film : "");
        practice.last_session = session;
        mark_session(made, session, week);
    }
    const journal::Author coach{"Odile Brandtwin", journal::Role::coach},
        athlete{"Tamsin Oakreed", journal::Role::athlete};
    made.add_note(practice.last_session, practice.last_clip, 5.5,
                  "Left hand floats away from the hip line. Set it down before you look up.", coach)
        .topic = journal::Topic::hands;
    made.add_note(practice.last_session, practice.last_clip, 8.0, hostile_note, athlete);
    made.add_note(
            practice.last_session, practice.last_clip, 18.0,
            "\u05D4\u05D7\u05D6\u05D9\u05E7\u05D9 \u05E2\u05D5\u05D3 \u05E9\u05EA\u05D9 \u05E9\u05E0\u05D9\u05D5\u05EA",
            coach)
        .topic = journal::Topic::twist_versus_sway;
    made.add_note(practice.last_session, practice.last_clip, 19.5, "Schultern tiefer, dann erst drehen.\nZweite Zeile.",
                  athlete)
        .done = true;
    made.add_note(practice.last_session, "", 0, "Better than last week: calm face right through.", coach).topic =
        journal::Topic::face;
    return practice;
}

}  // namespace quarterturn::test
