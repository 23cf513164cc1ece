#include "share/report_comparison.hpp"

#include <doctest/doctest.h>

using namespace quarterturn;
using namespace quarterturn::share;

namespace {

compare::Take take(double hold_s, std::optional<double> sway_cm, std::optional<double> waist, int holds = 1) {
    posing::Analysis analysis;
    analysis.clip.time_base = {1, 1000};
    analysis.clip.duration_s = 20;
    analysis.height_cm = 170;
    posing::Segment hold;
    hold.kind = posing::SegmentKind::hold;
    hold.pose = "quarter_front";
    hold.start_s = 1;
    hold.end_s = 1 + hold_s;
    hold.start_pts = 1000;
    hold.end_pts = 1000 + static_cast<std::int64_t>(1000 * hold_s);
    hold.stillness = {0.004, ""};
    hold.sway.rms = {sway_cm, sway_cm ? "" : "not seen"};
    if (waist) hold.widths = posing::Widths{{{}, "arms"}, {*waist, ""}, {{}, "arms"}, 0.3};
    for (int i = 0; i < holds; ++i) {
        analysis.segments.push_back(hold);
        hold.start_s += 10, hold.end_s += 10, hold.start_pts += 10000, hold.end_pts += 10000;
    }
    return {"film", std::make_shared<const posing::Analysis>(std::move(analysis)), nullptr};
}

SeasonsBeside beside(const compare::Take& now, const compare::Take& before, bool silhouettes = true) {
    compare::ComparisonSettings settings;
    settings.silhouettes = silhouettes;
    return {"16 May <2026>", "10 May 2025", {}, compare::compare_takes({now}, {before}, settings), {}, {}};
}

bool has(const std::string& text, const char* part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("differences stand in words and in numbers, and text from people is escaped") {
    const std::string page = comparison_sections(beside(take(7, 0.2, 13.0), take(5, 0.9, 15.0))).markup();
    CHECK(has(page, "held 2.0 s longer"));
    CHECK(has(page, "0.70 cm less sway"));
    CHECK(has(page, "waist width 2.0 % of the height less"));
    CHECK(has(page, "+2.0 s"));
    CHECK(has(page, "more than the error"));
    CHECK(has(page, "16 May &lt;2026&gt;"));
    CHECK(has(page, "Not brought to one scale"));
}

TEST_CASE("no difference stands without its error, and no number without its unit") {
    const std::string page = comparison_sections(beside(take(7, 0.2, 13.0), take(5, 0.9, 15.0))).markup();
    CHECK(has(page, "+2.0 s<span class=\"measure\">more than the error, 0.3\u00A0s (method)</span>"));
    CHECK(has(page, "\u22120.70 cm"));
    CHECK(has(page, "Speed in the hold, body heights/s"));
}

TEST_CASE("two holds of a pose are told apart") {
    const auto told = beside(take(5, 0.2, 13.0, 2), take(3, 0.9, 15.0, 2));
    const std::string page = comparison_sections(told).markup();
    CHECK(has(page, "2 holds of 1 pose are in both; "));
    CHECK(has(page, "Front to the judges, first hold: "));
    CHECK(has(page, ">Front to the judges, second hold</h3>"));
    CHECK(compare::pair_title(told.comparison, 1) == "Front to the judges, second hold");
    const auto once = beside(take(7, 0.2, 13.0), take(5, 0.9, 15.0));
    CHECK(compare::pair_title(once.comparison, 0) == "Front to the judges");
}

TEST_CASE("a number that one of the two lacks is left out") {
    const std::string page =
        comparison_sections(beside(take(7, std::nullopt, std::nullopt), take(5, 0.9, 15))).markup();
    CHECK(has(page, "Hold"));
    CHECK_FALSE(has(page, "Sway"));
    CHECK_FALSE(has(page, "Waist"));
    CHECK_FALSE(has(page, "nan"));
}

TEST_CASE("widths are nowhere when they are hidden") {
    const std::string page = comparison_sections(beside(take(7, 0.2, 13.0), take(5, 0.9, 15.0), false)).markup();
    CHECK_FALSE(has(page, "aist"));
    CHECK(has(page, "Sway"));
}
