#include "body/landmark_series.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <random>

using namespace quarterturn;
using namespace quarterturn::body;

namespace {

LandmarkSeries sample() {
    std::mt19937 random{3};
    std::uniform_real_distribution<float> pixel{-50, 2000};
    std::uniform_real_distribution<float> share{0, 1};
    std::uniform_real_distribution<float> metre{-1.2F, 1.2F};
    LandmarkSeries series{"full", "0.5/1", 15, {1, 90000}, 432, 768, {}, {"Only half could be read."}};
    for (int i = 0; i < 40; ++i) {
        LandmarkFrame frame;
        frame.pts = -300 + 6000 * i;
        frame.t_s = i / 15.0;
        if (i % 7 != 0) {
            frame.body.emplace();
            for (auto& landmark : frame.body->landmarks)
                landmark = {pixel(random), pixel(random), share(random), share(random)};
            for (auto& point : frame.body->world) point = {metre(random), metre(random), metre(random)};
            round_for_keeping(*frame.body);
            frame.region = Region{{400.25, 300.5}, 700.125, 0.0625};
            frame.confidence = 0.98F;
            frame.held = i % 2 == 0;
            frame.company = i % 3 == 0;
        }
        series.frames.push_back(frame);
    }
    return series;
}

}  // namespace

TEST_CASE("a kept series comes back the same") {
    const LandmarkSeries series = sample();
    const auto back = load_series(save_series(series));
    REQUIRE(back);
    CHECK(*back == series);
}

TEST_CASE("keeping costs about half a kilobyte a picture") {
    const auto bytes = save_series(sample()).size();
    CHECK(bytes / sample().frames.size() < 600);
}

TEST_CASE("rounding for keeping is fine and settles at once") {
    Body body;
    body.landmarks[0] = {123.456F, -7.89F, 0.5F, 1.0F};
    body.world[0] = {0.12345F, -0.6789F, 0};
    Body once = body;
    round_for_keeping(once);
    CHECK(std::abs(once.landmarks[0].x - body.landmarks[0].x) <= 0.5F / 64);
    CHECK(std::abs(once.landmarks[0].visibility - body.landmarks[0].visibility) <= 0.51F / 255);
    CHECK(std::abs(once.world[0].x - body.world[0].x) <= 0.0005F);
    Body twice = once;
    round_for_keeping(twice);
    CHECK(twice == once);
}

TEST_CASE("a damaged or cut series is an error") {
    const std::string whole = save_series(sample());
    for (std::size_t length = 0; length < whole.size(); length += 97)
        CHECK_FALSE(load_series(std::string_view{whole}.substr(0, length)));
    for (std::size_t at = 0; at < whole.size(); at += 131) {
        std::string bytes = whole;
        bytes[at] = static_cast<char>(bytes[at] ^ 0x40);
        CHECK_FALSE(load_series(bytes));
    }
}

TEST_CASE("a series from a newer program is left alone") {
    std::string bytes = save_series(sample());
    bytes[8] = 9;
    const auto back = load_series(bytes);
    REQUIRE_FALSE(back);
    CHECK(back.error().code == ErrorCode::newer_version);
}

TEST_CASE("a kept series whose numbers are no numbers is damaged, not half believed") {
    LandmarkSeries series;
    series.model = "full";
    series.rate_hz = std::numeric_limits<double>::quiet_NaN();
    series.time_base = {1, 90000};
    series.width = 16;
    series.height = 16;
    CHECK_FALSE(load_series(save_series(series)));
    series.rate_hz = 15;
    CHECK(load_series(save_series(series)));
    series.frames.push_back({});
    series.frames.back().region = Region{};
    series.frames.back().region->side = 8;
    series.frames.back().region->centre.x = std::numeric_limits<double>::infinity();
    CHECK_FALSE(load_series(save_series(series)));
}
