#include "compare/time_map.hpp"

#include <doctest/doctest.h>

using namespace quarterturn;
using namespace quarterturn::compare;
using posing::SegmentKind;

namespace {

posing::Segment segment(SegmentKind kind, double start_s, double end_s) {
    posing::Segment made;
    made.kind = kind;
    made.start_s = start_s;
    made.end_s = end_s;
    return made;
}

Takes film(std::vector<posing::Segment> segments) {
    posing::Analysis analysis;
    analysis.clip.time_base = {1, 1000};
    analysis.clip.duration_s = segments.back().end_s + 2;
    analysis.segments = std::move(segments);
    return {{"film", std::make_shared<const posing::Analysis>(std::move(analysis)), nullptr}};
}

TimeMap map_of(const Takes& now, std::vector<std::size_t> now_holds, const Takes& before,
               std::vector<std::size_t> before_holds) {
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < now_holds.size(); ++i)
        pairs.push_back({.pose = "a", .now = {0, now_holds[i]}, .before = {0, before_holds[i]}});
    return map_times(now, 0, before, 0, pairs);
}

}  // namespace

TEST_CASE("pauses between the same holds lie over each other, unless one film has one more") {
    const Takes now = film({segment(SegmentKind::hold, 0, 4), segment(SegmentKind::transition, 4, 5),
                            segment(SegmentKind::pause, 5, 7), segment(SegmentKind::transition, 7, 8),
                            segment(SegmentKind::hold, 8, 10)});
    const Takes before = film({segment(SegmentKind::hold, 10, 13), segment(SegmentKind::transition, 13, 14),
                               segment(SegmentKind::pause, 14, 18), segment(SegmentKind::transition, 18, 20),
                               segment(SegmentKind::hold, 20, 22)});
    const TimeMap map = map_of(now, {0, 4}, before, {0, 4});
    CHECK(map.before_at(5) == doctest::Approx(14));
    CHECK(map.before_at(6) == doctest::Approx(16));
    CHECK(map.before_at(7) == doctest::Approx(18));
    CHECK(map.now_at(16) == doctest::Approx(6));

    const Takes without = film({segment(SegmentKind::hold, 10, 13), segment(SegmentKind::transition, 13, 21),
                                segment(SegmentKind::hold, 21, 22)});
    CHECK(map_of(now, {0, 4}, without, {0, 2}).before_at(6) == doctest::Approx(17));  // half the way from 13 to 21
}

TEST_CASE("a walk's beginning binds only where both films tell the same before it") {
    const Takes now = film({segment(SegmentKind::hold, 0, 4), segment(SegmentKind::walk, 4, 6)});
    const Takes same = film({segment(SegmentKind::hold, 0, 5), segment(SegmentKind::walk, 5.5, 8)});
    const Takes turn_first = film(
        {segment(SegmentKind::hold, 0, 5), segment(SegmentKind::transition, 5, 6), segment(SegmentKind::walk, 6, 8)});
    CHECK(map_of(now, {0}, same, {0}).before_at(4) == doctest::Approx(5.5));
    CHECK(map_of(now, {0}, turn_first, {0}).before_at(4) == doctest::Approx(5));
    CHECK(map_of(now, {0}, turn_first, {0}).before_at(6) == doctest::Approx(8));
}
