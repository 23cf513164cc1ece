#include "body/torso_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "body/landmarks.hpp"

using namespace quarterturn::body;

namespace {

/// An upright bar between two columns of the region, as logits that fall evenly through zero.
std::vector<float> bar(double left, double right) {
    std::vector<float> mask;
    for (int row = 0; row < mask_side; ++row)
        for (int column = 0; column < mask_side; ++column)
            mask.push_back(static_cast<float>(std::min(column + 0.5 - left, right - (column + 0.5))));
    return mask;
}

}  // namespace

TEST_CASE("edges are where the mask crosses zero, in pixels of the picture") {
    const Region region{{300, 400}, 512, 0};
    const auto mask = bar(100, 170);
    // Two picture pixels for each of the mask's.
    const auto edges = torso_edges(mask, region, {310, 300}, {310, 420}, 200);
    for (const double y : {300.0, 355.5, 420.0}) {
        REQUIRE(edges.middle_at(y));
        CHECK(*edges.left_at(y) == doctest::Approx(300 - 256 + 200).epsilon(1e-4));
        CHECK(*edges.right_at(y) == doctest::Approx(300 - 256 + 340).epsilon(1e-4));
        CHECK(*edges.middle_at(y) == doctest::Approx(300 - 256 + 270).epsilon(1e-4));
    }
    CHECK_FALSE(edges.left_at(100));
}

TEST_CASE("an edge out of reach, or a middle line beside the body, gives none") {
    const Region region{{300, 400}, 512, 0};
    const auto mask = bar(100, 170);
    CHECK_FALSE(torso_edges(mask, region, {310, 300}, {310, 420}, 50).left_at(350));
    CHECK_FALSE(torso_edges(mask, region, {100, 300}, {100, 420}, 400).middle_at(350));
    CHECK(torso_edges({}, region, {310, 300}, {310, 420}, 200).rows.empty());
}
