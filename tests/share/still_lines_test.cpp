#include "share/still_lines.hpp"

#include <doctest/doctest.h>

using namespace quarterturn;
using namespace quarterturn::share;
using body::Joint;

namespace {

/// One picture of 400 x 800: ankles at (180, 700) and (220, 700), nose at (210, 100), all seen but the wrists.
body::LandmarkSeries series() {
    body::LandmarkSeries made;
    made.time_base = {1, 1000};
    made.width = 400;
    made.height = 800;
    body::LandmarkFrame frame;
    frame.pts = 5000;
    frame.body.emplace();
    for (auto& mark : frame.body->landmarks) mark = {200, 400, 1, 1};
    const auto put = [&](Joint joint, float x, float y, float seen) {
        frame.body->landmarks[static_cast<std::size_t>(joint)] = {x, y, seen, 1};
    };
    put(Joint::left_ankle, 220, 700, 1);
    put(Joint::right_ankle, 180, 700, 1);
    put(Joint::nose, 210, 100, 1);
    put(Joint::left_wrist, 300, 400, 0.1F);
    put(Joint::right_wrist, 100, 400, 0.1F);
    made.frames.push_back(frame);
    return made;
}

Still still() {
    return {"data:", 200, 400};
}

bool contains(const Html& html, const char* text) {
    return html.markup().find(text) != std::string::npos;
}

}  // namespace

TEST_CASE("the plumb line stands between the ankles, in the still's own pixels") {
    const Html lines = still_lines(still(), 5030, series(), {});
    CHECK(contains(lines, "<g class=\"plumb\"><line x1=\"100.0\" y1=\"14.0\" x2=\"100.0\""));
    CHECK_FALSE(contains(lines, "150.0"));  // a hidden wrist is not drawn
}

TEST_CASE("a mirrored or tilted clip's lines follow its still") {
    journal::Clip clip;
    clip.mirrored = true;
    body::LandmarkSeries aside = series();
    for (auto& mark : aside.frames[0].body->landmarks) mark.x += 100;
    CHECK(contains(still_lines(still(), 5000, aside, clip), "<g class=\"plumb\"><line x1=\"50.0\""));
    clip.mirrored = false;
    clip.tilt_deg = 10;
    // 300 below the middle, turned clockwise by 10 degrees: 52 to the left.
    CHECK(contains(still_lines(still(), 5000, series(), clip), "<g class=\"plumb\"><line x1=\"74.0\""));
}

TEST_CASE("no lines where nobody was seen near the picture") {
    CHECK(still_lines(still(), 5200, series(), {}).empty());
}
