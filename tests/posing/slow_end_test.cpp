#include "posing/slow_end.hpp"

#include <doctest/doctest.h>

using namespace quarterturn::posing;

namespace {

/// 15 samples a second: `rest` until `from_s`, then `slow` until 6 s, then a movement.
SpeedSeries series(double rest, double from_s, double slow) {
    SpeedSeries out;
    for (int i = 0; i <= 120; ++i) {
        const double t = i / 15.0;
        out.t_s.push_back(t);
        out.speed.emplace_back(t < from_s ? rest : t < 6 ? slow : 0.3);
    }
    return out;
}

HoldSettings one_sided() {
    HoldSettings settings;
    settings.slow_share = 0.5;  // 0.04
    return settings;
}

constexpr Stretch hold{1, 6};

}  // namespace

TEST_CASE("the slow beginning of a movement does not belong to the hold before it") {
    const Stretch drawn_in = without_slow_end(hold, series(0.005, 5.7, 0.07), one_sided());
    CHECK(drawn_in.start_s == 1);
    // Between the samples at 5.67 (0.005) and 5.73 (0.07) the speed crosses 0.04.
    CHECK(drawn_in.end_s == doctest::Approx(5.667 + 0.0667 * 0.035 / 0.065).epsilon(0.001));
}

TEST_CASE("an end is drawn in by 0.4 s at most") {
    const Stretch drawn_in = without_slow_end(hold, series(0.005, 5.45, 0.07), one_sided());
    CHECK(drawn_in.end_s > 5.55);
    CHECK(drawn_in.end_s < 5.75);
}

TEST_CASE("a hold that sways to its end does not end sooner") {
    CHECK(without_slow_end(hold, series(0.05, 5.7, 0.07), one_sided()).end_s == doctest::Approx(6).epsilon(0.012));
}

TEST_CASE("a hold that rests up to its end keeps it") {
    CHECK(without_slow_end(hold, series(0.005, 6, 0.005), one_sided()).end_s == doctest::Approx(6).epsilon(0.012));
}

TEST_CASE("where movements are seen from all sides nothing is drawn in") {
    CHECK(without_slow_end(hold, series(0.005, 5.7, 0.07), {}).end_s == 6);
}

TEST_CASE("a short hold stays a hold") {
    const Stretch brief{4.75, 6};
    const Stretch drawn_in = without_slow_end(brief, series(0.005, 5.57, 0.07), one_sided());
    CHECK(drawn_in.end_s == doctest::Approx(5.75));
}

TEST_CASE("an end beside pictures without a speed stays") {
    SpeedSeries gap = series(0.005, 5.7, 0.07);
    for (std::size_t i = 86; i < 92; ++i) gap.speed[i].reset();
    CHECK(without_slow_end(hold, gap, one_sided()).end_s == 6);
}
