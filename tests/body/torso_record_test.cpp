#include "body/torso_record.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "body/landmarks.hpp"

using namespace quarterturn;
using namespace quarterturn::body;

namespace {

media::Image checked_picture(int width, int height) {
    media::Image image;
    image.width = width;
    image.height = height;
    image.channels = 1;
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) image.samples.push_back(static_cast<std::uint8_t>(40 + (x * 7 + y * 13) % 160));
    return image;
}

/// A held body whose trunk is `length` pixels long.
LandmarkFrame held_body(float length) {
    LandmarkFrame frame;
    Body body{};
    const auto put = [&](Joint joint, float x, float y) {
        body.landmarks[static_cast<std::size_t>(joint)].x = x;
        body.landmarks[static_cast<std::size_t>(joint)].y = y;
    };
    put(Joint::left_shoulder, 500 + 0.3F * length, 300);
    put(Joint::right_shoulder, 500 - 0.3F * length, 300);
    put(Joint::left_hip, 500 + 0.2F * length, 300 + length);
    put(Joint::right_hip, 500 - 0.2F * length, 300 + length);
    frame.body = body;
    frame.region = Region{{500, 500}, 1000, 0};
    frame.held = true;
    return frame;
}

}  // namespace

TEST_CASE("the trunk is kept pixel by pixel, or as means of two by two in a large picture") {
    const media::Image image = checked_picture(1000, 1000);
    const PictureView view{image};
    const media::Picture picture;
    const std::vector<float> mask(static_cast<std::size_t>(mask_side) * mask_side, 1.0F);
    for (const float length : {150.0F, 400.0F}) {
        TorsoRecord record;
        const LandmarkFrame frame = held_body(length);
        record.see({picture, view, frame, mask});
        REQUIRE(record.pictures().size() == 1);
        const TorsoPicture& kept = record.pictures().front();
        const int step = static_cast<int>(kept.step);
        CHECK(step == (length < 200 ? 1 : 2));
        const cv::Mat grey = kept.grey.unpacked();
        for (const int at : {20, 51, 90}) {
            const int x = static_cast<int>(kept.origin.x) + at * step, y = static_cast<int>(kept.origin.y) + at * step;
            double sum = 0;
            for (int k = 0; k < step * step; ++k)
                sum += image.samples[static_cast<std::size_t>((y + k / step) * image.width + x + k % step)];
            CHECK(std::abs(grey.at<std::uint8_t>(at, at) - sum / (step * step)) <= 1);
        }
    }
}

TEST_CASE("nothing is kept while the body moves about or without the mask") {
    const media::Image image = checked_picture(1000, 1000);
    const PictureView view{image};
    const media::Picture picture;
    const std::vector<float> mask(static_cast<std::size_t>(mask_side) * mask_side, 1.0F);
    TorsoRecord record;
    LandmarkFrame frame = held_body(150);
    record.see({picture, view, frame, {}});
    frame.held = false;
    record.see({picture, view, frame, mask});
    CHECK(record.pictures().empty());
}
