#include "body/clip_parts.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace quarterturn::body;
using quarterturn::media::FrameIndex;

namespace {

/// Pictures at a fixed rate in 1/90000 s, a key frame every `key_s`.
FrameIndex film(double length_s, double rate, double key_s) {
    FrameIndex index;
    index.time_base = {1, 90000};
    const int keys_every = static_cast<int>(std::lround(key_s * rate));
    for (int i = 0; i < static_cast<int>(std::lround(length_s * rate)); ++i) {
        const std::int64_t pts = 1000 + std::llround(i * 90000 / rate);
        index.pictures.push_back({pts, pts, -1, static_cast<std::uint32_t>(i), i % keys_every == 0});
    }
    return index;
}

}  // namespace

TEST_CASE("15 pictures a second are looked at, all of them in a slower clip") {
    CHECK(sampled_ranks(film(10, 30, 1), 15).size() == 150);
    CHECK(sampled_ranks(film(10, 29.97, 1), 15).size() == 150);
    CHECK(sampled_ranks(film(10, 10, 1), 15).size() == 100);
    CHECK(sampled_ranks(film(10, 120, 1), 15).size() == 150);
    CHECK(sampled_ranks(film(10, 25, 1), 15).size() == 150);
    const auto every_second = sampled_ranks(film(4, 30, 1), 15);
    for (std::size_t i = 0; i < every_second.size(); ++i) CHECK(every_second[i] == 2 * i);
    CHECK(sampled_ranks(FrameIndex{}, 15).empty());
}

TEST_CASE("a short clip is one part") {
    const auto index = film(20, 30, 1);
    const auto sampled = sampled_ranks(index, 15);
    const auto parts = plan_parts(index, sampled);
    REQUIRE(parts.size() == 1);
    CHECK(parts[0].first == 0);
    CHECK(parts[0].hand_over == 0);
    CHECK(parts[0].end == sampled.size());
}

TEST_CASE("a long clip is an even number of parts that cover every picture once") {
    for (const double length_s : {26.0, 43.2, 61.0, 600.0}) {
        const auto index = film(length_s, 30, 2);
        const auto sampled = sampled_ranks(index, 15);
        const auto parts = plan_parts(index, sampled);
        CAPTURE(length_s);
        CHECK(parts.size() % 2 == 0);
        CHECK(parts.front().hand_over == 0);
        CHECK(parts.back().end == sampled.size());
        for (std::size_t i = 1; i < parts.size(); ++i) {
            CHECK(parts[i].hand_over == parts[i - 1].end);
            CHECK(parts[i].hand_over - parts[i].first == 12);  // 0.8 s of warming up
        }
        const double share = static_cast<double>(parts[0].end) / static_cast<double>(sampled.size());
        CHECK(std::abs(share * static_cast<double>(parts.size()) - 1) < 0.2);
    }
}

TEST_CASE("parts begin at key frames where one is near") {
    const auto index = film(43, 30, 1);
    const auto sampled = sampled_ranks(index, 15);
    const auto parts = plan_parts(index, sampled);
    REQUIRE(parts.size() == 2);
    CHECK(index.pictures[sampled[parts[1].first]].key);
}

TEST_CASE("a film with a single key frame is still cut evenly") {
    const auto index = film(43, 30, 1000);
    const auto sampled = sampled_ranks(index, 15);
    const auto parts = plan_parts(index, sampled);
    REQUIRE(parts.size() == 2);
    CHECK(std::abs(static_cast<double>(parts[1].first) / static_cast<double>(sampled.size()) - 0.5) < 0.02);
}
