#include "body/packed_grey.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using quarterturn::body::PackedGrey;

namespace {

bool same(const cv::Mat& a, const cv::Mat& b) {
    return a.size() == b.size() && std::equal(a.begin<std::uint8_t>(), a.end<std::uint8_t>(), b.begin<std::uint8_t>());
}

}  // namespace

TEST_CASE("any picture comes back as it was") {
    std::mt19937 random(5);
    for (const auto size : {cv::Size(1, 1), cv::Size(7, 3), cv::Size(64, 90)}) {
        cv::Mat noise(size, CV_8U);
        for (auto& pixel : cv::Mat_<std::uint8_t>(noise)) pixel = static_cast<std::uint8_t>(random());
        CHECK(same(PackedGrey{noise}.unpacked(), noise));
        noise.forEach<std::uint8_t>([](std::uint8_t& pixel, const int*) { pixel = pixel < 128 ? 0 : 255; });
        CHECK(same(PackedGrey{noise}.unpacked(), noise));
    }
    CHECK(PackedGrey{}.unpacked().empty());
}

TEST_CASE("a smooth picture with a little noise takes less than half of its bytes") {
    std::mt19937 random(6);
    cv::Mat skin(200, 120, CV_8U);
    for (int row = 0; row < skin.rows; ++row)
        for (int column = 0; column < skin.cols; ++column)
            skin.at<std::uint8_t>(row, column) = static_cast<std::uint8_t>(
                120 + 40 * std::sin(0.05 * row) + 0.3 * column + static_cast<int>(random() % 4U));
    const PackedGrey packed{skin};
    CHECK(same(packed.unpacked(), skin));
    CHECK(packed.bytes() < skin.total() / 2);
}
