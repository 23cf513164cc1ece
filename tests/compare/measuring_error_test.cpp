#include "compare/measuring_error.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace quarterturn::compare;
using doctest::Approx;

namespace {

MeasuredHold hold(double hold_s, std::optional<double> sway = {}) {
    MeasuredHold made;
    made[Measure::hold_s] = {hold_s, ""};
    made[Measure::sway_rms] = {sway, ""};
    return made;
}

}  // namespace

TEST_CASE("Student's limits are those of the published table") {
    // NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2 (0.975).
    CHECK(student_limit(1) == Approx(12.706).epsilon(1e-4));
    CHECK(student_limit(4) == Approx(2.776).epsilon(1e-4));
    CHECK(student_limit(9) == Approx(2.262).epsilon(1e-4));
    CHECK(student_limit(15) == Approx(2.131).epsilon(1e-3));
    CHECK(student_limit(30) == Approx(2.042).epsilon(1e-3));
    CHECK(student_limit(100000) == Approx(1.960).epsilon(1e-3));
}

TEST_CASE("repeats scatter about their own pose's mean, not about each other's") {
    const Scatters scatter =
        scatter_of({{"a", hold(4)}, {"b", hold(9)}, {"a", hold(6)}, {"b", hold(11)}, {"c", hold(100)}});
    CHECK(scatter[0].freedom == 2);
    CHECK(scatter[0].variance == Approx(2));
    CHECK(scatter[static_cast<std::size_t>(Measure::sway_rms)].freedom == 0);
}

TEST_CASE("facings on both sides of straight back are near each other") {
    MeasuredHold a, b;
    a[Measure::facing] = {179, ""};
    b[Measure::facing] = {-179, ""};
    const Scatters scatter = scatter_of({{"quarter_back", a}, {"quarter_back", b}});
    CHECK(scatter[static_cast<std::size_t>(Measure::facing)].variance == Approx(2));
}

TEST_CASE("repeats give the error when there are any, the method otherwise, and never less than the method") {
    const MeasuredHold a = hold(5), b = hold(4);
    const auto limit = [&](Scatter now, Scatter before) {
        return error_limit(Measure::hold_s, Lengths::pct, a, b, now, before, {});
    };
    const ErrorLimit method = limit({}, {});
    CHECK(method.source == ErrorSource::method);
    const ErrorLimit both = limit({0.5, 2}, {0.3, 2});
    CHECK(both.source == ErrorSource::repeats);
    CHECK(*both.value == Approx(2.776 * std::sqrt(0.8)).epsilon(1e-3));
    const ErrorLimit one = limit({0.5, 4}, {});
    CHECK(*one.value == Approx(2.776).epsilon(1e-3));
    const ErrorLimit lucky = limit({0, 1}, {});
    CHECK(lucky.source == ErrorSource::method);
    CHECK(*lucky.value == *method.value);
}

TEST_CASE("without repeats and without a known error nothing is said") {
    MeasuredHold a, b;
    a[Measure::score] = {80, ""};
    b[Measure::score] = {60, ""};
    const ErrorLimit limit = error_limit(Measure::score, Lengths::pct, a, b, {}, {}, {});
    CHECK_FALSE(limit.value);
    CHECK(limit.source == ErrorSource::none);
}

TEST_CASE("widths bring their own error") {
    MeasuredHold a, b;
    a[Measure::waist_width] = {15, ""};
    b[Measure::waist_width] = {16, ""};
    CHECK_FALSE(method_error(Measure::waist_width, Lengths::pct, a, b, {}));
    a.width_error_pct = 0.3;
    b.width_error_pct = 0.4;
    CHECK(*method_error(Measure::waist_width, Lengths::pct, a, b, {}) == Approx(0.98).epsilon(0.01));
    a.at_one_scale = b.at_one_scale = true;
    CHECK(*method_error(Measure::waist_width, Lengths::pct, a, b, {}) < 0.98);
}
