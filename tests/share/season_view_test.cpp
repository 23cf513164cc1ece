#include "share/season_view.hpp"

#include <doctest.h>

#include "share/made_up_season.hpp"
#include "share/measure.hpp"

using namespace quarterturn;
using namespace quarterturn::share;

TEST_CASE("a season lists its sessions by date with the numbers of each pose") {
    test::MadeUpSeason made = test::made_up_season();
    const std::string later = made.add_session("2026-04-18");
    const std::string earlier = made.add_session("2026-03-07");
    made.add_clip(later, "b.mp4", {{"quarter_front", 9}, {"quarter_back", 7}});
    made.add_clip(earlier, "a.mp4", {{"quarter_front", 4}});
    made.add_note(later, "", 0, "done", {"Odile Brandtwin", journal::Role::coach}).done = true;
    made.add_note(later, "", 0, "to do", {"Odile Brandtwin", journal::Role::coach});
    const auto rule_set = season_rules(made.library.seasons.front(), {});
    REQUIRE(rule_set);
    const auto view = season_view(made.library, *rule_set, made.analyses, "season");
    REQUIRE(view);
    REQUIRE(view->sessions.size() == 2);
    CHECK(view->sessions[0].session == earlier);
    CHECK(view->sessions[0].days_out == 84);
    REQUIRE(view->poses.size() == 4);
    CHECK(view->poses[2].pose == "quarter_back");
    CHECK(view->sessions[0].poses[0].hold_s == doctest::Approx(4));
    CHECK_FALSE(view->sessions[0].poses[2].hold_s);
    CHECK(view->sessions[1].poses[2].hold_s == doctest::Approx(7));
    CHECK(view->sessions[1].notes_to_do == 1);
    CHECK(view->sessions[1].notes_done == 1);
    CHECK(season_view(made.library, *rule_set, made.analyses, "none").error().code == ErrorCode::not_found);
}
