#include "share/confirmed_segments.hpp"

#include <doctest.h>

#include "share/made_up_season.hpp"

using namespace quarterturn;
using namespace quarterturn::share;
using journal::CorrectionKind;
using journal::HoldCorrection;

namespace {

/// Holds of 5 s at 3 s (front) and at 10 s (left side), a transition of 2 s between.
posing::Analysis two_holds() {
    return test::made_up_analysis(test::fingerprint(1), {{"quarter_front", 5}, {"quarter_left_side", 5}});
}

journal::PtsRange range(double from, double to) {
    return {std::llround(from * 90000), std::llround(to * 90000)};
}

HoldCorrection correction(CorrectionKind kind, std::optional<journal::PtsRange> about) {
    HoldCorrection made;
    made.id = "00000000-0000-7000-8000-000000000001";
    made.clip = test::fingerprint(1);
    made.base = test::ticks;
    made.kind = kind;
    made.about = about;
    return made;
}

}  // namespace

TEST_CASE("without corrections every segment is as measured") {
    const posing::Analysis analysis = two_holds();
    const auto views = confirmed_segments(analysis, {});
    REQUIRE(views.size() == 3);
    CHECK_FALSE(views[0].corrected);
    CHECK_FALSE(views[0].measured);
    CHECK(views[0].is_hold_of("quarter_front"));
    CHECK(views[1].now.kind == posing::SegmentKind::transition);
    CHECK(views[1].now.turn_deg.value == doctest::Approx(88.5));
}

TEST_CASE("a relabelled hold keeps its measures and what the program had said") {
    HoldCorrection made = correction(CorrectionKind::relabelled, range(3, 8));
    made.pose = "line_up";
    const auto views = confirmed_segments(two_holds(), std::vector{made});
    CHECK(views[0].is_hold_of("line_up"));
    CHECK(views[0].pose_by_person);
    CHECK(views[0].now.pose_confidence == doctest::Approx(1));
    CHECK(views[0].now.sway.rms.value);
    REQUIRE(views[0].measured);
    CHECK(views[0].measured->pose == "quarter_front");
}

TEST_CASE("moved bounds give the true length; numbers of the old bounds are gone with the reason") {
    HoldCorrection made = correction(CorrectionKind::bounds, range(3, 8));
    made.range = range(4, 9);
    const auto views = confirmed_segments(two_holds(), std::vector{made});
    CHECK(views[0].now.start_s == doctest::Approx(4));
    CHECK(views[0].now.duration_s() == doctest::Approx(5));
    CHECK_FALSE(views[0].now.sway.rms.value);
    CHECK_FALSE(views[0].now.sway.rms.reason.empty());
    CHECK(views[0].now.checks.empty());
    CHECK(views[0].measured->start_s == doctest::Approx(3));
    CHECK_FALSE(views[0].pose_by_person);
    CHECK(views[0].now.steadiest_pts >= views[0].now.start_pts);
    CHECK(views[1].now.start_s == doctest::Approx(9));  // the way out of the hold is cut back
}

TEST_CASE("a correction in another time base means the same moments") {
    HoldCorrection made = correction(CorrectionKind::bounds, journal::PtsRange{3000, 8000});
    made.base = {1, 1000};
    made.range = journal::PtsRange{4000, 9000};
    const auto views = confirmed_segments(two_holds(), std::vector{made});
    CHECK(views[0].now.start_pts == 4 * 90000);
    CHECK(views[0].now.end_pts == 9 * 90000);
}

TEST_CASE("an added hold is still where the picture moves least") {
    posing::Analysis analysis = two_holds();
    analysis.segments.pop_back();
    for (std::size_t i = 0; i < analysis.signals.t_s.size(); ++i)
        analysis.signals.stillness[i] = std::abs(analysis.signals.t_s[i] - 12.5) / 10;
    HoldCorrection made = correction(CorrectionKind::added, {});
    made.range = range(11, 14);
    made.pose = "quarter_back";
    const auto views = confirmed_segments(analysis, std::vector{made});
    const SegmentView& added = views.back();
    CHECK(added.is_hold_of("quarter_back"));
    CHECK_FALSE(added.measured);
    CHECK(static_cast<double>(added.now.steadiest_pts) / 90000 == doctest::Approx(12.5).epsilon(0.01));
}

TEST_CASE("a removed hold is a pause, a split one two holds of their own lengths") {
    const auto removed = confirmed_segments(two_holds(), std::vector{correction(CorrectionKind::removed, range(3, 8))});
    CHECK_FALSE(removed[0].is_hold());
    CHECK_FALSE(removed[0].now.pose);
    CHECK(removed[0].measured->pose == "quarter_front");
    HoldCorrection made = correction(CorrectionKind::split, range(3, 8));
    made.at = 5 * 90000;
    made.pose = "quarter_back";
    const auto split = confirmed_segments(two_holds(), std::vector{made});
    CHECK(split[0].now.duration_s() == doctest::Approx(2));
    CHECK(split[0].is_hold_of("quarter_front"));
    CHECK(split[1].now.duration_s() == doctest::Approx(3));
    CHECK(split[1].is_hold_of("quarter_back"));
}
