#include "share/session_view.hpp"

#include <doctest.h>

#include "share/made_up_season.hpp"
#include "share/measure.hpp"

using namespace quarterturn;
using namespace quarterturn::share;
using journal::Role;
using test::made_up_season;
using test::MadeUpSeason;

namespace {

SessionView view_of(const MadeUpSeason& made, const std::string& session) {
    const auto rule_set = season_rules(made.library.seasons.front(), {});
    REQUIRE(rule_set);
    auto view = session_view(made.library, *rule_set, made.analyses, session);
    REQUIRE(view);
    return std::move(view).value();
}

const ItemView& item(const SessionView& view, const char* pose, const char* id) {
    for (const ItemView& line : view.find_pose(pose)->items) {
        if (line.item.id == id) return line;
    }
    FAIL("no such item");
    return view.find_pose(pose)->items.front();
}

}  // namespace

TEST_CASE("poses stand in call order, those that were not held as well, others after them") {
    MadeUpSeason made = made_up_season();
    const std::string session = made.add_session("2026-03-07");
    made.add_clip(session, "a.mp4", {{"most_muscular", 3}, {"quarter_back", 6}});
    const SessionView view = view_of(made, session);
    std::vector<std::string> order;
    for (const PoseView& pose : view.poses) order.push_back(pose.pose);
    CHECK(order == std::vector<std::string>{"quarter_front", "quarter_left_side", "quarter_back", "quarter_right_side",
                                            "most_muscular"});
    CHECK(view.poses[0].calls == 2);
    CHECK_FALSE(view.poses[0].longest);
    CHECK_FALSE(view.longest_s(view.poses[0]));
    CHECK(view.longest_s(view.poses[2]) == doctest::Approx(6));
    CHECK(view.poses[4].calls == 0);
    CHECK(view.weeks_out == 12);
    CHECK(view.height_cm == doctest::Approx(182));
}

TEST_CASE("the longest and the steadiest hold are found over all takes that count") {
    MadeUpSeason made = made_up_season();
    const std::string session = made.add_session("2026-03-07");
    made.add_clip(session, "a.mp4", {{"quarter_front", 5, 0.01}, {"quarter_front", 8, 0.03}});
    made.add_clip(session, "b.mp4", {{"quarter_front", 20, 0.001}});
    made.library.clips.back().counts = false;
    const SessionView view = view_of(made, session);
    const PoseView& pose = *view.find_pose("quarter_front");
    CHECK(pose.holds.size() == 2);
    CHECK(view.hold(*pose.longest).now.duration_s() == doctest::Approx(8));
    CHECK(view.hold(*pose.steadiest).now.stillness.value == doctest::Approx(0.01));
    CHECK(view.clips.size() == 2);
}

TEST_CASE("the person's own goal replaces the rule set's, in the length item too") {
    MadeUpSeason made = made_up_season();
    made.library.seasons.front().target_hold_s["quarter_front"] = 20;
    const std::string session = made.add_session("2026-03-07");
    made.add_clip(session, "a.mp4", {{"quarter_front", 15}});
    const SessionView view = view_of(made, session);
    CHECK(view.find_pose("quarter_front")->target_hold_s == doctest::Approx(20));
    CHECK(item(view, "quarter_front", "hold_length").check->met == false);
    CHECK(item(view, "quarter_front", "hold_length").check->limit == doctest::Approx(20));
}

TEST_CASE("the program's, the athlete's and the coach's marks stand beside each other") {
    MadeUpSeason made = made_up_season();
    const std::string session = made.add_session("2026-03-07");
    made.add_clip(session, "a.mp4", {{"quarter_front", 12}});
    made.mark(session, "quarter_front", "shoulders_level", Role::coach, 2);
    made.mark(session, "quarter_front", "knees_straight", Role::athlete, 3);
    const SessionView view = view_of(made, session);
    const ItemView& shoulders = item(view, "quarter_front", "shoulders_level");
    CHECK(shoulders.program->value == 4);
    CHECK(shoulders.program->measured == doctest::Approx(1.1));
    CHECK(shoulders.coach->value == 2);
    CHECK_FALSE(shoulders.athlete);
    CHECK_FALSE(item(view, "quarter_front", "knees_straight").program);
    CHECK_FALSE(item(view, "quarter_front", "heel_distance").program);  // not measurable: no mark, not 0
    CHECK(item(view, "quarter_front", "heel_distance").check->value.reason == "the heels are out of the picture");
    const PoseView& pose = *view.find_pose("quarter_front");
    CHECK(pose.coach.own == 1);
    CHECK(pose.athlete.own == 1);
    CHECK(pose.athlete.score.marked == pose.program.score.marked + 1);
    CHECK(pose.athlete.score.items == static_cast<int>(pose.items.size()));
    CHECK(*pose.coach.score.percent < *pose.program.score.percent);
}

TEST_CASE("a value measured now replaces the program's mark kept earlier") {
    MadeUpSeason made = made_up_season();
    const std::string session = made.add_session("2026-03-07");
    made.add_clip(session, "a.mp4", {{"quarter_front", 12}});
    made.mark(session, "quarter_front", "shoulders_level", Role::program, 0);
    made.mark(session, "quarter_front", "feet_placed", Role::program, 1);  // nothing measured now: the kept one holds
    const SessionView view = view_of(made, session);
    CHECK(item(view, "quarter_front", "shoulders_level").program->value == 4);
    CHECK(item(view, "quarter_front", "feet_placed").program->value == 1);
}

TEST_CASE("steps on the way into a pose come from the transition before it") {
    MadeUpSeason made = made_up_season();
    const std::string session = made.add_session("2026-03-07");
    made.add_clip(session, "a.mp4", {{"quarter_front", 5}, {"quarter_left_side", 5}});
    const SessionView view = view_of(made, session);
    CHECK(item(view, "quarter_left_side", "transition_steps").check->value.value == doctest::Approx(2));
    CHECK_FALSE(item(view, "quarter_front", "transition_steps").check);  // the first pose has no way into it
}

TEST_CASE("notes go to the pose they name or in whose hold they lie; the rest is kept for the session") {
    MadeUpSeason made = made_up_season();
    const std::string session = made.add_session("2026-03-07");
    const std::string clip = made.add_clip(session, "a.mp4", {{"quarter_front", 5}, {"quarter_left_side", 5}});
    const journal::Author coach{"Odile Brandtwin", Role::coach};
    made.add_note(session, clip, 12, "second pose", coach);
    made.add_note(session, clip, 4, "first pose", coach);
    made.add_note(session, clip, 9, "between", coach).pose = "quarter_left_side";
    made.add_note(session, "", 0, "whole session", coach);
    made.add_note(session, clip, 9, "in the transition", coach);
    const SessionView view = view_of(made, session);
    CHECK(view.find_pose("quarter_front")->notes.size() == 1);
    const std::vector<NoteView>& side = view.find_pose("quarter_left_side")->notes;
    REQUIRE(side.size() == 2);
    CHECK(side[0].note.text == "between");
    CHECK(side[0].start_s == doctest::Approx(9));
    CHECK(side[0].clip_name == "a.mp4");
    REQUIRE(view.notes.size() == 2);
    CHECK(view.notes[1].note.text == "whole session");
    CHECK_FALSE(view.notes[1].start_s);
}

TEST_CASE("slow motion and a film that does not begin at tick 0 give true seconds") {
    posing::ClipFacts clip;
    clip.time_base = {1, 600};
    clip.first_pts = 1200;
    clip.time_scale = 0.25;
    CHECK(true_seconds(clip, {1200 + 6000, {1, 600}}) == doctest::Approx(2.5));
    CHECK(true_seconds(clip, {12, {1, 1}}) == doctest::Approx(2.5));  // another time base
}

TEST_CASE("a clip without analysis and a guessed date are said") {
    MadeUpSeason made = made_up_season();
    const std::string session = made.add_session("2026-03-07");
    made.library.sessions.back().date_source = journal::DateSource::file_date;
    const std::string clip = made.add_clip(session, "a.mp4", {{"quarter_front", 5}});
    made.add_note(session, clip, 4, "when", {"Tamsin Oakreed", Role::athlete});
    made.analyses.clear();
    const SessionView view = view_of(made, session);
    CHECK(view.warnings.size() == 2);
    CHECK_FALSE(view.athlete.score.percent);
    REQUIRE(view.notes.size() == 1);
    CHECK_FALSE(view.notes[0].start_s);
}

TEST_CASE("analyses are collected for the clips that have one; an unknown session is an error") {
    MadeUpSeason made = made_up_season();
    const std::string session = made.add_session("2026-03-07");
    const std::string good = made.add_clip(session, "a.mp4", {{"quarter_front", 5}});
    const std::string without = made.add_clip(session, "b.mp4", {{"quarter_front", 5}});
    const Analyses read = analyses_of_season(made.library, "season", [&](const journal::Clip& clip) {
        return clip.id == without ? std::nullopt : std::optional{*made.analyses.at(clip.id)};
    });
    REQUIRE(read.size() == 1);
    CHECK(read.at(good)->segments.front().pose == "quarter_front");
    CHECK(session_view(made.library, {}, read, "nobody").error().code == ErrorCode::not_found);
}
