#include <doctest/doctest.h>

#include "share/compare_films.hpp"

using namespace quarterturn;
using namespace quarterturn::share;

namespace {

ComparedSide side(char letter, TimeBase base, std::vector<std::pair<double, double>> holds) {
    posing::Analysis analysis;
    analysis.clip.fingerprint = "sha256:" + std::string(64, letter);
    analysis.clip.time_base = base;
    analysis.clip.duration_s = 60;
    for (const auto& [from, to] : holds) {
        posing::Segment hold;
        hold.kind = posing::SegmentKind::hold;
        hold.pose = "quarter_front";
        hold.start_s = from;
        hold.end_s = to;
        analysis.segments.push_back(hold);
    }
    ComparedSide made{"", {}};
    made.films.push_back({{"film", std::make_shared<const posing::Analysis>(std::move(analysis)), nullptr}, {}, {}});
    return made;
}

journal::Pin pin(journal::PinKind kind) {
    journal::Pin made;
    made.kind = kind;
    made.now.clip = "sha256:" + std::string(64, 'a');
    made.before.clip = "sha256:" + std::string(64, 'b');
    made.now.base = made.before.base = {1, 1000};
    return made;
}

}  // namespace

TEST_CASE("pinned holds are found again as those that share most time, also in another time base") {
    const auto now = side('a', {1, 90000}, {{2, 5}, {8, 12}}), before = side('b', {1, 15360}, {{1, 3}, {6, 9}});
    journal::Library library;
    journal::Pin holds = pin(journal::PinKind::holds);
    holds.now.hold = journal::PtsRange{7800, 12300};  // measured a little differently since
    holds.before.hold = journal::PtsRange{900, 3000};
    library.pins.push_back(holds);
    const auto pins = pins_between(library, now, before);
    REQUIRE(pins.pairs.size() == 1);
    CHECK(pins.pairs[0].now == compare::HoldPlace{0, 1});
    CHECK(pins.pairs[0].before == compare::HoldPlace{0, 0});
    CHECK(compare::pair_holds(now.takes(), before.takes(), pins).pairs[1].by_person);
}

TEST_CASE("pinned moments, lone holds, and pins about other films") {
    const auto now = side('a', {1, 90000}, {{2, 5}}), before = side('b', {1, 15360}, {{1, 3}});
    journal::Library library;
    journal::Pin moments = pin(journal::PinKind::moments);
    moments.now.at = 3500;
    moments.before.at = 2250;
    library.pins.push_back(moments);
    journal::Pin alone = pin(journal::PinKind::alone);
    alone.now.hold = journal::PtsRange{2000, 5000};
    library.pins.push_back(alone);
    journal::Pin other = alone;
    other.now.clip = "sha256:" + std::string(64, 'c');
    library.pins.push_back(other);
    journal::Pin gone = alone;
    gone.now.hold = journal::PtsRange{40000, 41000};
    library.pins.push_back(gone);
    const auto pins = pins_between(library, now, before);
    REQUIRE(pins.moments.size() == 1);
    CHECK(pins.moments[0].now_s == doctest::Approx(3.5));
    CHECK(pins.moments[0].before_s == doctest::Approx(2.25));
    REQUIRE(pins.pairs.size() == 1);
    CHECK_FALSE(pins.pairs[0].before);
    CHECK(compare::pair_holds(now.takes(), before.takes(), pins).pairs.empty());
}
