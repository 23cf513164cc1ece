#include "body/join_parts.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace quarterturn::body;

namespace {

constexpr Region place{{500, 500}, 600, 0};

LandmarkFrame frame(std::int64_t pts, float x, bool held, double region_x = 500) {
    LandmarkFrame out;
    out.pts = pts;
    out.t_s = static_cast<double>(pts) / 15;
    out.body.emplace();
    for (Landmark& landmark : out.body->landmarks) landmark = {x, 300, 1, 1};
    out.region = Region{{region_x, 500}, place.side, 0};
    out.held = held;
    out.confidence = 1;
    return out;
}

float x_of(const LandmarkFrame& frame) {
    return (*frame.body)[Joint::nose].x;
}

}  // namespace

TEST_CASE("every picture is there once, in order") {
    PartFrames first;
    PartFrames second;
    for (std::int64_t pts = 0; pts < 30; ++pts) first.frames.push_back(frame(pts, 100, true));
    for (std::int64_t pts = 20; pts < 60; ++pts) second.frames.push_back(frame(pts, 100, true));
    second.warm_up = 10;
    const auto joined = join_parts(std::vector{first, second});
    REQUIRE(joined.size() == 60);
    for (std::size_t i = 0; i < joined.size(); ++i) CHECK(joined[i].pts == static_cast<std::int64_t>(i));
}

TEST_CASE("a cut inside a held pose leaves no step in the joints") {
    PartFrames first;
    PartFrames second;
    const auto sway = [](std::int64_t pts) { return 100 + 2 * std::sin(static_cast<float>(pts) / 5); };
    for (std::int64_t pts = 0; pts < 30; ++pts) first.frames.push_back(frame(pts, sway(pts), true));
    // The second part's region lies 12 pixels aside, which moves its joints by 4.
    for (std::int64_t pts = 20; pts < 60; ++pts) second.frames.push_back(frame(pts, sway(pts) + 4, pts >= 24, 512));
    second.warm_up = 10;
    const auto joined = join_parts(std::vector{first, second});
    for (const auto& one : joined) {
        CAPTURE(one.pts);
        CHECK(std::abs(x_of(one) - sway(one.pts)) < 0.02F);
    }
}

TEST_CASE("once the region moves, the later part's joints stand as they are") {
    PartFrames first;
    PartFrames second;
    for (std::int64_t pts = 0; pts < 30; ++pts) first.frames.push_back(frame(pts, 100, true));
    for (std::int64_t pts = 20; pts < 60; ++pts) second.frames.push_back(frame(pts, 104, pts < 40, 512));
    second.warm_up = 10;
    const auto joined = join_parts(std::vector{first, second});
    CHECK(x_of(joined[39]) == doctest::Approx(100));
    for (std::size_t i = 39; i + 1 < 60; ++i) CHECK(std::abs(x_of(joined[i + 1]) - x_of(joined[i])) < 1.01F);
    CHECK(x_of(joined[46]) == 104);
}

TEST_CASE("once the posture changes in a held region, the joints stand as they are") {
    PartFrames first;
    PartFrames second;
    for (std::int64_t pts = 0; pts < 30; ++pts) first.frames.push_back(frame(pts, 100, true));
    // The hands come down after picture 40; the region, held all the time, had moved the joints by 4 until then.
    for (std::int64_t pts = 20; pts < 60; ++pts) {
        second.frames.push_back(frame(pts, 104, true, 512));
        if (pts >= 40) second.frames.back().body->landmarks[15].y += 100;
    }
    second.warm_up = 10;
    const auto joined = join_parts(std::vector{first, second});
    CHECK(x_of(joined[39]) == doctest::Approx(100));
    CHECK(x_of(joined[46]) == 104);
    CHECK(x_of(joined[59]) == 104);
}

TEST_CASE("a joint misread before the cut does not move what comes after it") {
    PartFrames first;
    PartFrames second;
    for (std::int64_t pts = 0; pts < 30; ++pts) {
        first.frames.push_back(frame(pts, 100, true));
        first.frames.back().body->landmarks[13].x = 160;  // an elbow, a tenth of the side away
    }
    for (std::int64_t pts = 20; pts < 60; ++pts) second.frames.push_back(frame(pts, 104, true, 512));
    second.warm_up = 10;
    const auto joined = join_parts(std::vector{first, second});
    CHECK(joined[40].body->landmarks[13].x == 104);
    CHECK(x_of(joined[40]) == doctest::Approx(100));
}

TEST_CASE("two different people are not pulled together") {
    PartFrames first;
    PartFrames second;
    for (std::int64_t pts = 0; pts < 30; ++pts) first.frames.push_back(frame(pts, 100, true, 200));
    for (std::int64_t pts = 20; pts < 60; ++pts) second.frames.push_back(frame(pts, 700, true, 800));
    second.warm_up = 10;
    CHECK(x_of(join_parts(std::vector{first, second})[30]) == 700);
}

TEST_CASE("a part in which nothing could be read leaves a gap") {
    PartFrames first;
    for (std::int64_t pts = 0; pts < 10; ++pts) first.frames.push_back(frame(pts, 100, true));
    CHECK(join_parts(std::vector{first, PartFrames{}}).size() == 10);
    CHECK(join_parts(std::vector{PartFrames{}, first}).size() == 10);
    CHECK(join_parts({}).empty());
}
