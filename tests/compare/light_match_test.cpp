#include "compare/light_match.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace quarterturn;
using namespace quarterturn::compare;

namespace {

StillBody standing() {
    StillBody body;
    body.height_px = 180;
    const auto put = [&](body::Joint joint, double x, double y) {
        body.points[static_cast<std::size_t>(joint)] = {x, y, 0.9};
    };
    using enum body::Joint;
    put(left_shoulder, 75, 40), put(right_shoulder, 45, 40), put(left_elbow, 85, 75), put(right_elbow, 35, 75);
    put(left_hip, 68, 95), put(right_hip, 52, 95), put(left_knee, 68, 140), put(right_knee, 52, 140);
    put(left_ankle, 67, 185), put(right_ankle, 53, 185);
    return body;
}

/// Skin before a wall, with a suit over the hips.
media::Image picture(std::array<double, 3> skin, std::array<std::uint8_t, 3> wall, std::array<std::uint8_t, 3> suit) {
    media::Image image{120, 200, 3, {}};
    for (int y = 0; y < 200; ++y)
        for (int x = 0; x < 120; ++x) {
            const bool body = std::abs(x - 60) < 30;
            for (std::size_t c = 0; c < 3; ++c)
                image.samples.push_back(!body               ? wall[c]
                                        : y > 85 && y < 110 ? suit[c]
                                                            : static_cast<std::uint8_t>(skin[c]));
        }
    return image;
}

}  // namespace

TEST_CASE("skin decides, not the wall and not the suit") {
    const auto now = picture({180, 130, 100}, {200, 200, 200}, {120, 20, 50});
    const auto before = picture({120, 100, 90}, {40, 60, 90}, {20, 60, 120});
    const auto gains = match_light(now, standing(), 1, before, standing(), 1);
    REQUIRE(gains);
    media::Image matched = before;
    apply_light(matched, *gains);
    const std::size_t thigh = (130 * 120 + 66) * 3;
    CHECK(std::abs(matched.samples[thigh] - 180) <= 2);
    CHECK(std::abs(matched.samples[thigh + 1] - 130) <= 2);
    CHECK(std::abs(matched.samples[thigh + 2] - 100) <= 2);
}

TEST_CASE("gains work on light: twice the light is not twice the sample") {
    // IEC 61966-2-1: sRGB 128 is 0.2159 of white's light, 180 is 0.4564.
    media::Image image{1, 1, 3, {128, 128, 255}};
    apply_light(image, {0.4564 / 0.2159, 1, 2});
    CHECK(std::abs(image.samples[0] - 180) <= 1);
    CHECK(image.samples[1] == 128);
    CHECK(image.samples[2] == 255);
}

TEST_CASE("without a body nothing is matched") {
    const auto image = picture({180, 130, 100}, {200, 200, 200}, {120, 20, 50});
    CHECK_FALSE(match_light(image, StillBody{}, 1, image, standing(), 1));
}
