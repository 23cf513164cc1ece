#include "journal/corrected_segments.hpp"

#include <doctest.h>
#include <rapidcheck.h>

using namespace quarterturn;
using namespace quarterturn::journal;

namespace {

/// front hold 0..100, transition 100..120, left side hold 120..200, pause 200..260.
std::vector<SegmentSpan> measured() {
    return {{{0, 100}, true, "quarter_front", {}, false},
            {{100, 120}, false, {}, {}, false},
            {{120, 200}, true, "quarter_left_side", {}, false},
            {{200, 260}, false, {}, {}, false}};
}

HoldCorrection correction(CorrectionKind kind, std::optional<PtsRange> about, const std::string& id = "1") {
    HoldCorrection made;
    made.id = id;
    made.kind = kind;
    made.about = about;
    return made;
}

std::vector<SegmentSpan> after(const HoldCorrection& one) {
    return corrected_segments(measured(), {&one, 1});
}

}  // namespace

TEST_CASE("without corrections the measured segments stand") {
    const auto segments = corrected_segments(measured(), {});
    REQUIRE(segments.size() == 4);
    CHECK(segments[2].measured == 2);
    CHECK_FALSE(segments[2].corrected);
}

TEST_CASE("a hold is relabelled, also when a newer analysis moved its bounds a little") {
    HoldCorrection label = correction(CorrectionKind::relabelled, PtsRange{118, 205});
    label.pose = "quarter_right_side";
    const auto segments = after(label);
    CHECK(segments[2].pose == "quarter_right_side");
    CHECK(segments[2].corrected);
    CHECK(segments[2].measured == 2);
    CHECK_FALSE(segments[0].corrected);
}

TEST_CASE("longer bounds cut back the neighbours") {
    HoldCorrection bounds = correction(CorrectionKind::bounds, PtsRange{0, 100});
    bounds.range = PtsRange{0, 130};
    const auto segments = after(bounds);
    REQUIRE(segments.size() == 3);  // the transition is gone
    CHECK(segments[0].range == PtsRange{0, 130});
    CHECK(segments[1].range == PtsRange{130, 200});
    CHECK(segments[1].corrected);
}

TEST_CASE("shorter bounds leave the rest without a segment") {
    HoldCorrection bounds = correction(CorrectionKind::bounds, PtsRange{0, 100});
    bounds.range = PtsRange{10, 90};
    const auto segments = after(bounds);
    REQUIRE(segments.size() == 4);
    CHECK(segments[0].range == PtsRange{10, 90});
    CHECK(segments[1].range == PtsRange{100, 120});
}

TEST_CASE("a hold is split and both parts know where they come from") {
    HoldCorrection split = correction(CorrectionKind::split, PtsRange{120, 200});
    split.at = 150;
    split.pose = "line_up";
    const auto segments = after(split);
    REQUIRE(segments.size() == 5);
    CHECK(segments[2].range == PtsRange{120, 150});
    CHECK(segments[2].pose == "quarter_left_side");
    CHECK(segments[3].range == PtsRange{150, 200});
    CHECK(segments[3].pose == "line_up");
    CHECK(segments[3].measured == 2);
}

TEST_CASE("two holds are joined over what lies between them") {
    HoldCorrection join = correction(CorrectionKind::joined, PtsRange{0, 100});
    join.range = PtsRange{120, 200};
    const auto segments = after(join);
    REQUIRE(segments.size() == 2);
    CHECK(segments[0].range == PtsRange{0, 200});
    CHECK(segments[0].pose == "quarter_front");
}

TEST_CASE("a hold is added inside a pause, which goes on around it") {
    HoldCorrection added = correction(CorrectionKind::added, std::nullopt);
    added.range = PtsRange{210, 230};
    added.pose = "quarter_back";
    const auto segments = after(added);
    REQUIRE(segments.size() == 6);
    CHECK(segments[3].range == PtsRange{200, 210});
    CHECK(segments[4].pose == "quarter_back");
    CHECK_FALSE(segments[4].measured.has_value());
    CHECK(segments[5].range == PtsRange{230, 260});
}

TEST_CASE("a removed hold becomes a stretch that is no hold") {
    const auto segments = after(correction(CorrectionKind::removed, PtsRange{0, 100}));
    REQUIRE(segments.size() == 4);
    CHECK_FALSE(segments[0].is_hold);
    CHECK_FALSE(segments[0].pose.has_value());
}

TEST_CASE("a correction that was taken back or whose hold is gone does nothing") {
    HoldCorrection gone = correction(CorrectionKind::removed, PtsRange{300, 400});
    CHECK(after(gone) == corrected_segments(measured(), {}));
    HoldCorrection taken_back = correction(CorrectionKind::removed, PtsRange{0, 100});
    taken_back.removed = true;
    CHECK(after(taken_back) == corrected_segments(measured(), {}));
}

TEST_CASE("corrections apply in the order of making, not of the list") {
    HoldCorrection first = correction(CorrectionKind::relabelled, PtsRange{0, 100}, "1");
    first.pose = "quarter_back";
    HoldCorrection second = correction(CorrectionKind::relabelled, PtsRange{0, 100}, "2");
    second.pose = "line_up";
    const std::vector<HoldCorrection> reversed{second, first};
    CHECK(corrected_segments(measured(), reversed)[0].pose == "line_up");
}

TEST_CASE("whatever is corrected, segments stay ordered and never overlap") {
    const bool held = rc::check([] {
        std::vector<HoldCorrection> corrections;
        const int count = *rc::gen::inRange(0, 12);
        for (int i = 0; i < count; ++i) {
            const auto range = [] {
                const std::int64_t start = *rc::gen::inRange<std::int64_t>(-20, 280);
                return PtsRange{start, start + *rc::gen::inRange<std::int64_t>(1, 150)};
            };
            HoldCorrection made =
                correction(static_cast<CorrectionKind>(*rc::gen::inRange(0, 6)), range(), std::to_string(i));
            made.range = range();
            made.at = *rc::gen::inRange<std::int64_t>(-20, 280);
            corrections.push_back(made);
        }
        const auto segments = corrected_segments(measured(), corrections);
        for (std::size_t i = 0; i < segments.size(); ++i) {
            RC_ASSERT(segments[i].range.start < segments[i].range.end);
            if (i > 0) RC_ASSERT(segments[i - 1].range.end <= segments[i].range.start);
        }
    });
    CHECK(held);
}
