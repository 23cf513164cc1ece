#include "posing/silhouette_widths.hpp"

#include <doctest/doctest.h>

#include <array>

using namespace quarterturn;
using namespace quarterturn::posing;

namespace {

body::OutlineWidths widths(double shoulders, double waist, double hips) {
    return {{shoulders, ""}, {waist, ""}, {hips, ""}};
}

}  // namespace

TEST_CASE("widths are shares of the height, less what the mask reaches beyond the body") {
    const std::array seen{widths(150, 70, 105), widths(150, 70, 105), widths(150, 70, 105)};
    const Widths found = silhouette_widths(seen, 500, {2.0, ""});
    CHECK(found.shoulders.value.value() == doctest::Approx(30 - 0.35));
    CHECK(found.waist.value.value() == doctest::Approx(14 - 0.35));
    CHECK(found.hips.value.value() == doctest::Approx(21 - 0.35));
    CHECK(found.error == doctest::Approx(0.5));
}

TEST_CASE("an unsteady outline makes widths less sure") {
    const std::array seen{widths(150, 60, 105), widths(150, 70, 105), widths(150, 80, 105)};
    CHECK(silhouette_widths(seen, 500, {180.0, ""}).error > 1);
}

TEST_CASE("a side view shows no widths") {
    const std::array seen{widths(150, 70, 105), widths(150, 70, 105), widths(150, 70, 105)};
    const Widths found = silhouette_widths(seen, 500, {-88.0, ""});
    CHECK_FALSE(found.waist.value);
    CHECK(found.waist.reason == "only a front or a back view shows how broad the body is");
}

TEST_CASE("a width that is hidden in most pictures is absent with its reason") {
    std::array seen{widths(150, 70, 105), widths(150, 70, 105), widths(150, 70, 105)};
    for (auto& one : seen) one.waist = {std::nullopt, "the arms cover the outline of the waist"};
    const Widths found = silhouette_widths(seen, 500, {0.0, ""});
    CHECK_FALSE(found.waist.value);
    CHECK(found.waist.reason == "the arms cover the outline of the waist");
    CHECK(found.hips.value);
}
