#include "body/one_euro.hpp"

#include <doctest/doctest.h>

#include <array>

using quarterturn::body::one_euro_weight;
using quarterturn::body::OneEuro;
using quarterturn::body::OneEuroSettings;

namespace {

constexpr double step = 1.0 / 30;
constexpr std::array<double, 7> input{0, 1, 2, 1, 0, 10, 10};

void check_series(OneEuroSettings settings, const std::array<double, 7>& expected) {
    OneEuro filter{settings};
    for (std::size_t i = 0; i < input.size(); ++i) {
        CAPTURE(i);
        CHECK(filter.next(input[i], step) == doctest::Approx(expected[i]).epsilon(1e-8));
    }
}

}  // namespace

// The filter and its listing: Casiez, Roussel, Vogel, CHI 2012; the numbers were computed from the paper's formulas
// with another program (Python).
TEST_CASE("the One-Euro weight follows from cutoff and step") {
    CHECK(one_euro_weight(1, step) == doctest::Approx(0.173170720).epsilon(1e-8));
    CHECK(one_euro_weight(5, step) == doctest::Approx(0.511527356).epsilon(1e-8));
}

TEST_CASE("the One-Euro filter takes speed from the last filtered value, as the paper's listing does") {
    check_series({1, 0.1, 1}, {0, .241416178, .820335345, .877075301, .663201064, 5.973459907, 8.430086377});
}

TEST_CASE("the One-Euro filter without speed term is a plain low-pass filter") {
    check_series({1, 0, 1}, {0, .173170720, .489524061, .577923546, .477844110, 2.126802697, 3.490209939});
}

TEST_CASE("a value that is not later changes nothing") {
    OneEuro filter{{1, 0.1, 1}};
    filter.next(3, step);
    CHECK(filter.next(100, 0) == 3);
    CHECK(filter.next(100, -1) == 3);
}

TEST_CASE("a reset filter starts again at rest") {
    OneEuro filter{{1, 0.1, 1}};
    filter.next(0, step);
    filter.next(5, step);
    filter.reset(7);
    CHECK(filter.value() == 7);
    CHECK(filter.speed() == 0);
}
