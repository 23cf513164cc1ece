#include "share/report.hpp"

#include <doctest.h>

#include "base/file.hpp"
#include "share/made_up_practice.hpp"
#include "share/report_season.hpp"
#include "share/report_session.hpp"
#include "share/report_tables.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::share;

namespace {

SessionView last_session(const test::Practice& practice) {
    const auto rule_set = season_rules(practice.made.library.seasons.front(), {});
    REQUIRE(rule_set);
    auto view = session_view(practice.made.library, *rule_set, practice.made.analyses, practice.last_session);
    REQUIRE(view);
    return std::move(view).value();
}

SeasonView whole_season(const test::Practice& practice) {
    const auto rule_set = season_rules(practice.made.library.seasons.front(), {});
    REQUIRE(rule_set);
    auto view = season_view(practice.made.library, *rule_set, practice.made.analyses, "season");
    REQUIRE(view);
    return std::move(view).value();
}

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

Result<std::filesystem::path> no_film(const journal::Clip&) {
    return Error{ErrorCode::not_found, "The film is not where it was."};
}

void check_self_contained(const std::string& page) {
    CHECK(has(page, "content=\"default-src &#39;none&#39;; img-src data:; style-src &#39;unsafe-inline&#39;\""));
    CHECK(has(page, "<html lang=\"en\">"));
    CHECK_FALSE(has(page, "<script"));
    CHECK_FALSE(has(page, "url("));
    CHECK_FALSE(has(page, "@import"));
    CHECK_FALSE(has(page, "http://"));
    CHECK_FALSE(has(page, "https://"));
    CHECK_FALSE(has(page, "onerror=\""));
}

}  // namespace

TEST_CASE("the pages stand alone and show awkward text as text") {
    const test::Practice practice = test::made_up_practice();
    const std::string session = session_page(last_session(practice), {}, nullptr);
    check_self_contained(session);
    CHECK(has(session, "&lt;script&gt;document.title=&#39;ran&#39;"));
    check_self_contained(season_page(whole_season(practice), nullptr, {}));
}

TEST_CASE("names from people are escaped wherever they stand") {
    test::Practice practice = test::made_up_practice();
    for (std::string* name :
         {&practice.made.library.athlete.name, &practice.made.library.seasons.front().title,
          &practice.made.library.clips.back().original_name, &practice.made.library.notes[0].author.name})
        *name = "<script>\"'&\xFF";
    const SessionView view = last_session(practice);
    PoseStills stills;
    for (const PoseView& pose : view.poses) stills[pose.pose] = {"data:image/jpeg;base64,AA==", 10, 20};
    check_self_contained(session_page(view, stills, nullptr));
    check_self_contained(season_page(whole_season(practice), nullptr, {}));
}

TEST_CASE("a session's page says lengths, goals, notes with times and how they were had") {
    const std::string page = session_page(last_session(test::made_up_practice()), {}, nullptr);
    CHECK(has(page, "Practice on 16 May 2026"));
    CHECK(has(page, "2 weeks out"));
    CHECK(has(page, "Held 11.7\u00A0s: the goal of 10\u00A0s is reached."));
    CHECK(has(page, "at 0:05.5 in morning 2026-05-16.mp4"));
    CHECK(has(page, "the heels are out of the picture"));
    CHECK(has(page, "recognised from the body (93 % sure)"));
    CHECK(has(page, "Take care"));
    CHECK(has(page, "physician"));
    CHECK(has(page, "Holds without a pose"));
    CHECK_FALSE(has(page, "<img"));
}

TEST_CASE("hips that drift are said to drift to the side the judges see") {
    test::Practice practice = test::made_up_practice();
    auto& kept = practice.made.analyses.at(practice.last_clip);
    posing::Analysis analysis = *kept;
    for (posing::Segment& hold : analysis.segments) {
        const posing::Measured none{std::nullopt, "no single rhythm stands out"};
        hold.sway = {{0.7, ""}, {2.4, ""}, none, {}, posing::Measured{-2.0, ""}};
    }
    kept = std::make_shared<const posing::Analysis>(std::move(analysis));
    const std::string page = session_page(last_session(practice), {}, nullptr);
    CHECK(has(page, "to the left, as the judges see it, during the hold"));
    CHECK_FALSE(has(page, "whole body sways"));
}

TEST_CASE("measured from motion alone, names are called guessed and twist and sway absent with the reason") {
    const std::string page =
        session_page(last_session(test::made_up_practice("", posing::Method::motion)), {}, nullptr);
    CHECK(has(page, "guessed from the call order alone (45 % sure)"));
    CHECK(has(page, "Measured items without a value: motion alone does not show the joints."));
    CHECK(has(page, "Read this first"));
    CHECK(has(page, "Not measured: facing, twist, sway (measured from motion alone)."));
    CHECK_FALSE(has(page, "Twist and sway in the longest hold"));
    CHECK_FALSE(has(page, "stays square"));
}

TEST_CASE("a session without anything is a page too") {
    test::MadeUpSeason made = test::made_up_season();
    test::Practice practice{.made = made, .last_session = {}, .last_clip = {}};
    practice.last_session = practice.made.add_session("2026-06-01");
    const std::string page = session_page(last_session(practice), {}, nullptr);
    CHECK(has(page, "Not held in this session."));
    CHECK(has(page, "2 days after the show"));
    CHECK_FALSE(has(page, ">nan"));
    CHECK_FALSE(has(season_page(whole_season(practice), nullptr, {}), ">nan"));
}

TEST_CASE("a season's page compares the first session with the latest and lists all") {
    const std::string page = season_page(whole_season(test::made_up_practice()), nullptr, {});
    CHECK(has(page, "11.7\u00A0s on 16 May 2026, 6.5\u00A0s longer than on 7 March 2026"));
    CHECK(has(page, "show on 30 May 2026"));
    CHECK(has(page, "4 April 2026, 8 weeks out: not held"));
}

TEST_CASE("page and tables are written for their owner only; a missing film is remarked on and loses nothing") {
    const test::TemporaryFolder folder;
    const auto written = write_session_report(last_session(test::made_up_practice()), nullptr, no_film,
                                              {.out = folder.path() / "my report.html"});
    REQUIRE(written);
    CHECK(written->tables.size() == 3);
    REQUIRE(written->remarks.size() == 1);
    CHECK(has(written->remarks[0], "The film is not where it was."));
    for (const auto& entry : std::filesystem::directory_iterator(folder.path())) {
        CAPTURE(entry.path().string());
        const auto allowed = std::filesystem::perms::owner_read | std::filesystem::perms::owner_write;
        CHECK(entry.status().permissions() == allowed);
    }
    CHECK(std::filesystem::exists(folder.path() / "my report-holds.csv"));
    const auto nowhere = write_season_report(whole_season(test::made_up_practice()), nullptr, no_film,
                                             {.out = folder.path() / "no" / "x.html"});
    CHECK(nowhere.error().code == ErrorCode::not_found);
}

TEST_CASE("a session's page shows its season's charts, a season's page its latest session") {
    const test::Practice practice = test::made_up_practice();
    const SessionView latest = last_session(practice);
    const SeasonView season = whole_season(practice);
    CHECK(has(session_page(latest, {}, &season), "Hold times towards the show"));
    const std::string page = season_page(season, &latest, {});
    CHECK(has(page, "The latest practice, 16 May 2026"));
    CHECK(has(page, "Left hand floats away from the hip line."));
    check_self_contained(page);
}

TEST_CASE("a session that was not measured is not called one without holds") {
    test::Practice practice = test::made_up_practice();
    practice.made.analyses.erase(practice.made.library.clips.front().id);
    const std::string page = season_page(whole_season(practice), nullptr, {});
    CHECK(has(page, "7 March 2026, 12 weeks out: nothing measured"));
    CHECK(has(page, "1 clip is not analysed yet"));
    CHECK_FALSE(has(page, "7 March 2026, 12 weeks out: not held"));
}

TEST_CASE("the same numbers make the same page") {
    CHECK(session_page(last_session(test::made_up_practice()), {}, nullptr) ==
          session_page(last_session(test::made_up_practice()), {}, nullptr));
}

TEST_CASE("tables hold the page's numbers; what is absent is empty") {
    test::Practice practice = test::made_up_practice();
    practice.made.library.notes[0].text = "=1+1";
    const SessionView view = last_session(practice);
    const std::string holds = holds_table(view);
    CHECK(has(holds,
              "morning 2026-05-16.mp4,quarter_front,Front to the "
              "judges,3.000,14.700,11.700,10.0,0.0160,0.35,,1.4,0.5,2.1,0.90,0.93,body,landmarks,no\r\n"));
    const std::string list = checklist_records(view);
    CHECK(has(list, "quarter_front,shoulders_level,Both shoulders on one level,1.00,1.100,deg,3.000,yes,4,4,,\r\n"));
    CHECK(has(
        list,
        "quarter_front,heel_distance,Heels close together,1.00,,cm,7.600,,,,,the heels are out of the picture\r\n"));
    CHECK(
        has(notes_table(view), "morning 2026-05-16.mp4,5.500,,quarter_front,hands,coach,Odile Brandtwin,no,'=1+1\r\n"));
    const std::string sessions = sessions_table(whole_season(practice));
    CHECK(has(sessions, "2026-03-07,no,84,12,quarter_front,Front to the judges,5.200,10.0,"));
    CHECK(has(sessions, "2026-04-04,no,56,8,quarter_right_side,Right side to the judges,,10.0,,,,,"));
}
