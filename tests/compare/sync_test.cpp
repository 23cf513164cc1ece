#include "compare/sync.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace quarterturn;
using namespace quarterturn::compare;

namespace {

Take film(double duration_s, std::vector<std::pair<double, double>> holds) {
    posing::Analysis analysis;
    analysis.clip.time_base = {1, 90000};
    analysis.clip.duration_s = duration_s;
    for (const auto& [from, to] : holds) {
        posing::Segment hold;
        hold.kind = posing::SegmentKind::hold;
        hold.pose = "quarter_front";
        hold.start_s = from;
        hold.end_s = to;
        hold.start_pts = std::llround(from * 90000);
        hold.end_pts = std::llround(to * 90000);
        analysis.segments.push_back(hold);
    }
    return {"film", std::make_shared<const posing::Analysis>(std::move(analysis)), nullptr};
}

std::vector<std::int64_t> pictures(double rate, double seconds) {
    std::vector<std::int64_t> pts;
    for (int i = 0; i / rate < seconds; ++i) pts.push_back(std::llround(i * 90000 / rate));
    return pts;
}

}  // namespace

TEST_CASE("over five minutes both films stay within one picture of each other, by a made-up clock") {
    // A 60 Hz screen whose refreshes come up to 7 ms late; films of 30 and 29.97 pictures a second.
    const Takes now{film(300, {{10, 40}, {100, 160}, {240, 290}})};
    const Takes before{film(280, {{5, 30}, {80, 130}, {220, 275}})};
    const Pairing pairing = pair_holds(now, before);
    const Sync sync(now, 0, before, 0, pairing.pairs, map_times(now, 0, before, 0, pairing.pairs));
    const auto a = pictures(30, 300), b = pictures(30000.0 / 1001, 280);
    double worst = 0;
    for (const SyncMode mode : {SyncMode::by_warped_time, SyncMode::by_pose}) {
        for (int refresh = 0; refresh < 60 * 300; ++refresh) {
            const double clock_s = refresh / 60.0 + 0.007 * std::abs(std::sin(refresh));
            const DueMoment due = sync.at(clock_s, mode);
            const double shown_a = static_cast<double>(a[rank_on_screen(a, now[0].analysis->clip, due.now_s)]) / 90000;
            const double shown_b =
                static_cast<double>(b[rank_on_screen(b, before[0].analysis->clip, due.before_s)]) / 90000;
            const double meant_b = sync.at(shown_a, mode).before_s;
            if (mode == SyncMode::by_warped_time) worst = std::max(worst, std::abs(meant_b - shown_b));
            CHECK(due.before_s - shown_b >= -1e-3);
            CHECK(due.before_s - shown_b <= 1.001 * 1001 / 30000 + 1e-3);
        }
    }
    CHECK(worst <= 2.0 / 30 * 1.1);  // one picture of each film, where the earlier one runs quicker than this one
}

TEST_CASE("by pose both holds begin together and run at true speed") {
    const Takes now{film(60, {{10, 18}, {30, 40}})}, before{film(60, {{20, 24}, {35, 39}})};
    const Pairing pairing = pair_holds(now, before);
    const Sync sync(now, 0, before, 0, pairing.pairs, map_times(now, 0, before, 0, pairing.pairs));
    CHECK(sync.at(10, SyncMode::by_pose).before_s == doctest::Approx(20));
    CHECK(sync.at(12, SyncMode::by_pose).before_s == doctest::Approx(22));
    CHECK(sync.at(29, SyncMode::by_pose).before_s == doctest::Approx(34));
    CHECK(sync.at(14, SyncMode::by_warped_time).before_s == doctest::Approx(22));
    const FineOffset offset{0.2, -0.5};
    CHECK(sync.at(12, SyncMode::by_pose, offset).now_s == doctest::Approx(12.2));
    CHECK(sync.at(12, SyncMode::by_pose, offset).before_s == doctest::Approx(21.5));
    CHECK(sync.clock_for_before(21.5, SyncMode::by_pose, offset) == doctest::Approx(12));
    CHECK(sync.at(59, SyncMode::by_pose).before_s == doctest::Approx(60));  // never outside the film
}

TEST_CASE("the picture on screen goes by the pictures' own times") {
    posing::ClipFacts clip;
    clip.time_base = {1, 1000};
    clip.first_pts = 500;
    const std::vector<std::int64_t> pts{500, 533, 600, 640};
    CHECK(rank_on_screen(pts, clip, -1) == 0);
    CHECK(rank_on_screen(pts, clip, 0.033) == 1);
    CHECK(rank_on_screen(pts, clip, 0.0995) == 1);
    CHECK(rank_on_screen(pts, clip, 0.1) == 2);
    CHECK(rank_on_screen(pts, clip, 9) == 3);
}

TEST_CASE("a time map never runs backwards and finds its way back") {
    const TimeMap map({{0, 5}, {10, 10}, {20, 10}, {30, 40}, {25, 41}, {40, 39}});
    CHECK(map.before_at(-1) == doctest::Approx(4));
    CHECK(map.before_at(5) == doctest::Approx(7.5));
    CHECK(map.before_at(15) == doctest::Approx(10));
    CHECK(map.before_at(31) == doctest::Approx(41));
    CHECK(map.now_at(7.5) == doctest::Approx(5));
    CHECK(map.now_at(25) == doctest::Approx(25));
}
