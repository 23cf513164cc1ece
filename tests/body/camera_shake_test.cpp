#include "body/camera_shake.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <opencv2/imgproc.hpp>

using namespace quarterturn::body;

namespace {

/// A wall with frames and corners, drawn twice as large as needed so that it can be moved by parts of a pixel.
cv::Mat room() {
    cv::Mat wall(2 * 240, 2 * 160, CV_8U, cv::Scalar(140));
    for (int i = 0; i < 14; ++i)
        cv::rectangle(wall, cv::Rect(17 + 61 * (i % 5), 20 + 91 * (i / 3), 30 + 3 * i, 22 + 2 * i),
                      cv::Scalar(60 + 12 * i), i % 2 == 0 ? 3 : cv::FILLED);
    cv::line(wall, {0, 380}, {320, 400}, cv::Scalar(70), 5);
    return wall;
}

/// The room as a phone sees it that has moved so, with noise.
cv::Mat seen(const cv::Mat& wall, const Movement& moved, int number, double light = 1) {
    const double c = std::cos(moved.turn_rad), s = std::sin(moved.turn_rad);
    // From the reduced picture to the wall: undo the movement, then twice the size and room at the edges.
    const cv::Matx33d undo(c, s, -c * moved.x - s * moved.y, -s, c, s * moved.x - c * moved.y, 0, 0, 1);
    const cv::Matx33d to_middle(1, 0, -59.5, 0, 1, -95.5, 0, 0, 1), to_wall(2, 0, 159.5, 0, 2, 239.5, 0, 0, 1);
    cv::Mat out, noise(192, 120, CV_32F);
    cv::Mat soft;
    cv::GaussianBlur(wall, soft, {}, 1.2);
    cv::warpPerspective(soft, out, to_wall * undo * to_middle, {120, 192}, cv::INTER_LINEAR | cv::WARP_INVERSE_MAP,
                        cv::BORDER_REPLICATE);
    cv::RNG random(static_cast<std::uint64_t>(number) + 5);
    random.fill(noise, cv::RNG::NORMAL, 0, 1.5);
    out.convertTo(out, CV_32F, light);
    out += noise;
    out.convertTo(out, CV_8U);
    return out;
}

Movement planted(int i) {
    return {2.2 * std::sin(0.5 * i), 1.7 * std::sin(0.37 * i) * std::min(1.0, i / 3.0), 0.004 * std::sin(0.61 * i)};
}

}  // namespace

TEST_CASE("the phone's shift and roll are found to a twentieth of a reduced pixel") {
    const cv::Mat wall = room();
    ShakeMeter meter;
    for (int i = 0; i < 40; ++i) {
        const auto found = meter.measure(seen(wall, planted(i), i, 1 + 0.004 * i), {});
        REQUIRE(found);
        const Movement truth = planted(i).after(planted(0).inverse());
        CAPTURE(i);
        CHECK(std::abs(found->x - truth.x) < 0.05);
        CHECK(std::abs(found->y - truth.y) < 0.05);
        CHECK(std::abs(found->turn_rad - truth.turn_rad) < 0.0006);
    }
}

TEST_CASE("somebody who moves before the wall is not taken for the phone's movement") {
    const cv::Mat wall = room();
    ShakeMeter meter;
    for (int i = 0; i < 40; ++i) {
        cv::Mat picture = seen(wall, planted(i), i);
        // One known of, and one nobody knows of.
        const cv::Rect athlete(40 + i / 3, 60, 26, 110), stranger(100, 30 + 2 * i, 10, 36);
        cv::rectangle(picture, athlete, cv::Scalar(200), cv::FILLED);
        cv::rectangle(picture, athlete, cv::Scalar(40), 4);
        cv::rectangle(picture, stranger, cv::Scalar(30), cv::FILLED);
        const auto found = meter.measure(picture, athlete + cv::Size(8, 8) - cv::Point(4, 4));
        REQUIRE(found);
        CAPTURE(i);
        CHECK(std::abs(found->x - planted(i).x) < 0.1);
        CHECK(std::abs(found->y - planted(i).y) < 0.1);
    }
}

TEST_CASE("a phone that wanders far off is followed by changing the reference") {
    const cv::Mat wall = room();
    ShakeMeter meter;
    double off = 0;
    for (int i = 0; i <= 40; ++i) {
        const Movement truth{-0.9 * i, 0.5 * i, 0};
        const auto found = meter.measure(seen(wall, truth, i), {});
        REQUIRE(found);
        off = std::hypot(found->x - truth.x, found->y - truth.y);
    }
    CHECK(off < 0.3);
}

TEST_CASE("a bare wall tells nothing") {
    ShakeMeter meter;
    for (int i = 0; i < 5; ++i) CHECK_FALSE(meter.measure(seen(cv::Mat(480, 320, CV_8U, cv::Scalar(128)), {}, i), {}));
}

TEST_CASE("a movement and its inverse cancel") {
    const Movement a{3, -2, 0.1}, none = a.after(a.inverse());
    CHECK(none.x == doctest::Approx(0));
    CHECK(none.y == doctest::Approx(0));
    CHECK(none.turn_rad == doctest::Approx(0));
}
