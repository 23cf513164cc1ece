#include "body/small_pictures.hpp"

#include <doctest/doctest.h>

#include <opencv2/imgproc.hpp>
#include <random>

using namespace quarterturn::body;

namespace {

cv::Mat noise(cv::Size size, int type, std::uint32_t limit) {
    std::mt19937 random(7);
    cv::Mat made(size, type);
    for (int y = 0; y < made.rows; ++y)
        for (int x = 0; x < made.cols; ++x) {
            const auto value = random() % limit;
            if (type == CV_8U)
                made.at<std::uint8_t>(y, x) = static_cast<std::uint8_t>(value);
            else
                made.at<std::uint16_t>(y, x) = static_cast<std::uint16_t>(value);
        }
    return made;
}

double largest_difference(const cv::Mat& a, const cv::Mat& b) {
    return a.size() == b.size() && a.type() == b.type() ? cv::norm(a, b, cv::NORM_INF) : HUGE_VAL;
}

}  // namespace

// Outside check of everything here: OpenCV 4.6's own functions.
TEST_CASE("reducing by whole blocks gives OpenCV's area means") {
    for (const int by : {1, 2, 4, 8}) {
        CAPTURE(by);
        const cv::Size size(7 * by * 5, 3 * by);
        cv::Mat eight, deep;
        cv::resize(noise(size, CV_8U, 256), eight, size / by, 0, 0, cv::INTER_AREA);
        CHECK(largest_difference(reduced(noise(size, CV_8U, 256), by), eight) <= 1);  // halves are rounded up
        cv::resize(noise(size, CV_16U, 1024), deep, size / by, 0, 0, cv::INTER_AREA);
        deep.convertTo(deep, CV_8U, 1.0 / 4);
        CHECK(largest_difference(reduced(noise(size, CV_16U, 1024), by), deep) <= 1);
    }
    const cv::Mat white(64, 64, CV_8U, cv::Scalar(255));
    CHECK(largest_difference(reduced(white, 8), cv::Mat(8, 8, CV_8U, cv::Scalar(255))) == 0);
}

TEST_CASE("smoothing and halving give OpenCV's pictures to the last bit") {
    for (const cv::Size size : {cv::Size(1, 1), cv::Size(2, 3), cv::Size(5, 4), cv::Size(91, 47)}) {
        CAPTURE(size.width);
        const cv::Mat grey = noise(size, CV_8U, 256);
        cv::Mat expected;
        cv::GaussianBlur(grey, expected, {3, 3}, 0.8, 0.8, cv::BORDER_REPLICATE);
        CHECK(largest_difference(smoothed(grey), expected) == 0);
        cv::pyrDown(grey, expected);
        CHECK(largest_difference(halved(grey), expected) == 0);
    }
}
