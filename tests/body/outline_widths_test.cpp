#include "body/outline_widths.hpp"

#include <doctest/doctest.h>

using namespace quarterturn::body;

namespace {

constexpr double shoulders_y = 100, hips_y = 220, middle_x = 200;

/// Trunk 90 wide at the shoulders, 60 at its narrowest and 96 at the hips; arms 35 beside it.
struct Standing {
    TorsoPicture picture;
    Body body;

    Standing() {
        picture.left_shoulder = {245, shoulders_y};
        picture.right_shoulder = {155, shoulders_y};
        picture.left_hip = {220, hips_y};
        picture.right_hip = {180, hips_y};
        picture.edges.first_y = 76;
        picture.edges.spacing = 2;
        for (double y = 76; y <= 310; y += 2) {
            const auto half =
                static_cast<float>(y < 160 ? 45 - (y - 100) * 0.25 : std::min(48.0, 30 + (y - 160) * 0.3));
            picture.edges.rows.push_back({static_cast<float>(middle_x) - half, static_cast<float>(middle_x) + half});
        }
        place(Joint::left_shoulder, 245, 100);
        place(Joint::right_shoulder, 155, 100);
        hang(Joint::left_elbow, Joint::left_wrist, Joint::left_index_finger, 280);
        hang(Joint::right_elbow, Joint::right_wrist, Joint::right_index_finger, 120);
    }
    void place(Joint joint, float x, float y) { body.landmarks[static_cast<std::size_t>(joint)] = {x, y, 1, 1}; }
    void hang(Joint elbow, Joint wrist, Joint finger, float x) {
        place(elbow, x, 160);
        place(wrist, x, 215);
        place(finger, x, 235);
    }
};

}  // namespace

TEST_CASE("widths are read where shoulders, waist and hips are") {
    const Standing standing;
    const OutlineWidths widths = outline_widths(standing.picture, standing.body, 400);
    REQUIRE(widths.shoulders.px);
    CHECK(*widths.shoulders.px == doctest::Approx(86.6).epsilon(0.01));  // 90 at the joints, 83.3 below
    REQUIRE(widths.waist.px);
    CHECK(*widths.waist.px == doctest::Approx(60).epsilon(0.03));
    REQUIRE(widths.hips.px);
    CHECK(*widths.hips.px == doctest::Approx(96));
}

TEST_CASE("raised arms leave the shoulders without a width") {
    Standing standing;
    standing.place(Joint::left_elbow, 320, 95);
    standing.place(Joint::left_wrist, 320, 30);
    standing.place(Joint::left_index_finger, 320, 10);
    const OutlineWidths widths = outline_widths(standing.picture, standing.body, 400);
    CHECK_FALSE(widths.shoulders.px);
    CHECK(widths.shoulders.reason == "the arms do not hang beside the shoulders");
    CHECK(widths.waist.px);
}

TEST_CASE("a hand at the waist leaves the waist without a width") {
    Standing standing;
    standing.place(Joint::left_wrist, 235, 165);
    standing.place(Joint::left_index_finger, 225, 185);
    const OutlineWidths widths = outline_widths(standing.picture, standing.body, 400);
    CHECK_FALSE(widths.waist.px);
    CHECK(widths.waist.reason == "the arms cover the outline of the waist");
    CHECK(widths.hips.px);
}
