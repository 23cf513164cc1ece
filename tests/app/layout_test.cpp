#include "app/layout.hpp"

#include <doctest.h>

#include <vector>

using namespace quarterturn::app;

namespace {

bool apart(const Box& a, const Box& b) {
    return a.right() <= b.x || b.right() <= a.x || a.bottom() <= b.y || b.bottom() <= a.y;
}

void check_layout(float width, float height, float scale, bool full_screen) {
    CAPTURE(width);
    CAPTURE(scale);
    const ClipLayout layout = clip_layout(width, height, scale, full_screen);
    std::vector<Box> boxes{layout.stage, layout.transport, layout.ribbon};
    for (const auto& box : {layout.bar, layout.tools, layout.cards, layout.strip})
        if (box) boxes.push_back(*box);
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        CHECK(boxes[i].x >= 0);
        CHECK(boxes[i].y >= 0);
        CHECK(boxes[i].right() <= width);
        CHECK(boxes[i].bottom() <= height);
        CHECK(boxes[i].w > 40 * scale);
        CHECK(boxes[i].h > 20 * scale);
        for (std::size_t k = i + 1; k < boxes.size(); ++k) CHECK(apart(boxes[i], boxes[k]));
    }
}

}  // namespace

TEST_CASE("parts of the clip screen never overlap or leave the window") {
    for (const bool full_screen : {false, true}) {
        check_layout(960, 600, 1, full_screen);
        check_layout(1280, 800, 1, full_screen);
        check_layout(1920, 1080, 1, full_screen);
        check_layout(3840, 2160, 2, full_screen);
    }
}

TEST_CASE("a picture is fitted whole and keeps its shape") {
    const Box outer{10, 20, 400, 300};
    const Box upright = fit(outer, 9.0 / 16);
    CHECK(upright.h == doctest::Approx(300));
    CHECK(upright.w == doctest::Approx(168.75));
    CHECK(upright.x == doctest::Approx(10 + (400 - 168.75) / 2));
    const Box wide = fit(outer, 16.0 / 9);
    CHECK(wide.w == doctest::Approx(400));
    CHECK(wide.h == doctest::Approx(225));
}
