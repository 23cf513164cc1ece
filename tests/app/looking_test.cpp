#include <doctest.h>

#include <algorithm>
#include <cmath>

#include "app/drawing.hpp"
#include "app/fonts.hpp"
#include "app/path_complete.hpp"
#include "app/picture_view.hpp"
#include "app/ribbon_scale.hpp"
#include "app/thinned.hpp"
#include "app/words.hpp"
#include "base/file.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

TEST_CASE("a place on screen and its place in the picture are the same place, zoomed, moved and mirrored") {
    const Box stage{100, 50, 600, 700};
    for (const bool mirrored : {false, true}) {
        Zooming zooming{3, {0.4, 0.6}, mirrored};
        const PictureView view(stage, 9.0 / 16, zooming);
        const Spot spot{0.3, 0.55};
        const Spot back = view.to_picture(view.to_screen(spot));
        CHECK(back.x == doctest::Approx(spot.x).epsilon(1e-4));
        CHECK(back.y == doctest::Approx(spot.y).epsilon(1e-4));
    }
}

TEST_CASE("a tilted picture is turned clockwise about what is in the middle, against it where it is mirrored") {
    const Box stage{0, 0, 600, 600};
    for (const bool mirrored : {false, true}) {
        CAPTURE(mirrored);
        const Zooming zooming{2, {0.5, 0.5}, mirrored, 30};
        const PictureView view(stage, 1, zooming);
        // Up in the film by a quarter of 1200 pixels: 30 degrees clockwise of straight up, sin 30 = 1/2.
        const ScreenSpot up = view.to_screen({0.5, 0.25});
        CHECK(up.x == doctest::Approx(300 + (mirrored ? -150 : 150)));
        CHECK(up.y == doctest::Approx(300 - 300 * std::sqrt(3) / 2));
        const Spot back = view.to_picture(up);
        CHECK(back.x == doctest::Approx(0.5).epsilon(1e-4));
        CHECK(back.y == doctest::Approx(0.25).epsilon(1e-4));
        // The picture goes with the hand.
        const Zooming moved = panned(zooming, stage, 1, 30, -20);
        const ScreenSpot now = PictureView(stage, 1, moved).to_screen({0.5, 0.25});
        CHECK(now.x == doctest::Approx(up.x + 30));
        CHECK(now.y == doctest::Approx(up.y - 20));
    }
    // Without a tilt the corners are the picture's box.
    const PictureView plain(stage, 0.5, Zooming{});
    CHECK(plain.corners()[0].x == doctest::Approx(plain.picture().x));
    CHECK(plain.corners()[2].y == doctest::Approx(plain.picture().bottom()));
}

TEST_CASE("zooming keeps what is under the pointer there") {
    const Box stage{0, 0, 400, 700};
    Zooming zooming{2, {0.5, 0.5}, false};
    const ScreenSpot at{230, 300};
    const Spot before = PictureView(stage, 0.5625, zooming).to_picture(at);
    zooming = zoomed(zooming, stage, 0.5625, 1.5, at);
    const Spot after = PictureView(stage, 0.5625, zooming).to_picture(at);
    CHECK(after.x == doctest::Approx(before.x).epsilon(1e-3));
    CHECK(after.y == doctest::Approx(before.y).epsilon(1e-3));
    CHECK(zoomed(zooming, stage, 0.5625, 1e-6, at).factor == 1);
}

TEST_CASE("the ribbon never shows more than the clip") {
    CHECK(zoomed({0, 40}, 0.5, 20, 40) == RibbonSpan{0, 40});
    const RibbonSpan closer = zoomed({0, 40}, 4, 30, 40);
    CHECK(closer.length_s == doctest::Approx(10));
    CHECK(RibbonScale(closer, 0, 100).x_of(30) == doctest::Approx(75));
    CHECK(scrolled({30, 10}, 5, 40).start_s == doctest::Approx(30));
    CHECK(following({0, 10}, 25, 40).start_s == doctest::Approx(24));
    for (const Tick& tick : ticks({0, 40}, 800, 60))
        if (tick.labelled) CHECK(std::fmod(tick.seconds, 5.0) == doctest::Approx(0));
}

TEST_CASE("drawings survive writing and reading, strange ones are refused") {
    const Drawing drawing{DrawingKind::angle, {{0.1, 0.2}, {0.3, 0.4}, {0.5, 0.25}}, {"left_wrist", "left_elbow", ""}};
    CHECK(*read_drawing(write_drawing(drawing)) == drawing);
    for (const char* text :
         {"", "[]", "{}", R"({"kind": "cloud", "points": [[0,0]]})", R"({"kind": "ring", "points": [[0,0]]})",
          R"({"kind": "arrow", "points": [[0,0],["x",1]]})"})
        CHECK_FALSE(read_drawing(text));
}

TEST_CASE("an angle is measured as it looks, not in shares of the picture") {
    // A right angle in a picture twice as high as wide.
    CHECK(*angle_at({0.5, 0.25}, {0.5, 0.5}, {1.0, 0.5}, 0.5) == doctest::Approx(90));
    CHECK(*angle_at({0.0, 0.25}, {0.5, 0.5}, {1.0, 0.5}, 0.5) == doctest::Approx(135));
    CHECK_FALSE(angle_at({0.5, 0.5}, {0.5, 0.5}, {1, 0.5}, 0.5));
}

TEST_CASE("an angle tied to joints follows them and stays where a joint is not seen") {
    const Drawing drawing{DrawingKind::angle, {{0, 0}, {0.5, 0.5}, {1, 1}}, {"left_wrist", "left_elbow", ""}};
    const Drawing moved = following_joints(drawing, {{"left_elbow", {0.6, 0.4}}});
    CHECK(moved.points[0] == Spot{0, 0});
    CHECK(moved.points[1] == Spot{0.6, 0.4});
    CHECK(moved.points[2] == Spot{1, 1});
}

TEST_CASE("a curve of an hour is drawn with a few points for each column of the screen, its peaks among them") {
    std::vector<ScreenSpot> line;
    for (int i = 0; i < 108000; ++i)
        line.push_back({static_cast<float>(i) * 0.01F, static_cast<float>(i * 7919 % 100)});
    line[54321].y = -500;
    line[54322].y = 900;
    const auto drawn = thinned(line);
    CHECK(drawn.size() <= 4 * 1080);
    CHECK(drawn.front().x == line.front().x);
    CHECK(drawn.back().x == line.back().x);
    const auto by_height = [](const ScreenSpot& a, const ScreenSpot& b) { return a.y < b.y; };
    const auto [low, high] = std::minmax_element(drawn.begin(), drawn.end(), by_height);
    CHECK(low->y == -500);
    CHECK(high->y == 900);
    CHECK(std::is_sorted(drawn.begin(), drawn.end(), [](const auto& a, const auto& b) { return a.x < b.x; }));
    // What is sparse stays as it is.
    const std::vector<ScreenSpot> sparse{{0, 1}, {1.5F, 2}, {9, 0}};
    CHECK(thinned(sparse).size() == 3);
    CHECK(thinned({}).empty());
}

TEST_CASE("times and weeks read as people say them") {
    CHECK(clock_time(7.4, true) == "0:07.4");
    CHECK(clock_time(3723, false) == "1:02:03");
    const auto day = [](const char* text) { return *parse_date(text); };
    CHECK(weeks_out_text(day("2026-03-07"), day("2026-04-18")) == "6 weeks out");
    CHECK(weeks_out_text(day("2026-04-16"), day("2026-04-18")) == "show week");
    CHECK(weeks_out_text(day("2026-04-20"), day("2026-04-18")) == "1 week after the show");
    CHECK(day_text(day("2026-05-03")) == "3 May 2026");
    CHECK(path_text("/home/mara/.config/keys.json", "/home/mara") == "~/.config/keys.json");
    CHECK(path_text("/home/marabou/keys.json", "/home/mara") == "/home/marabou/keys.json");
    CHECK(path_text("/srv/keys.json", "") == "/srv/keys.json");
    CHECK(shortened("Плечи выше, локти мягче", 10) == "Плечи в...");
}

TEST_CASE("characters outside the usual scripts are asked for once") {
    NeededCharacters needed;
    CHECK_FALSE(needed.add("Füße, Πλάτη, Плечи"));
    CHECK(needed.add("肩を下げる"));
    CHECK_FALSE(needed.add("肩を下げる"));
    CHECK(needed.all().size() == 5);
}

TEST_CASE("a path is completed as far as it is clear") {
    const test::TemporaryFolder folder;
    REQUIRE(make_folder(folder.path() / "practice_march"));
    REQUIRE(make_folder(folder.path() / "practice_april"));
    const std::string base = folder.path().string() + "/";
    CHECK(completed(base + "pra") == base + "practice_");
    CHECK(completed(base + "practice_m") == base + "practice_march/");
    CHECK(path_offers(base + "practice", 10).size() == 2);
    CHECK(completed(base + "nothing") == base + "nothing");
}
