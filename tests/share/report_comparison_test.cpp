#include "share/report_comparison.hpp"

#include <doctest/doctest.h>

using namespace quarterturn;
using namespace quarterturn::share;

namespace {

compare::Take take(double hold_s, std::optional<double> sway_cm, std::optional<double> waist) {
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
    hold.sway.rms = {sway_cm, sway_cm ? "" : "not seen"};
    if (waist) hold.widths = posing::Widths{{{}, "arms"}, {*waist, ""}, {{}, "arms"}, 0.3};
    analysis.segments.push_back(hold);
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
