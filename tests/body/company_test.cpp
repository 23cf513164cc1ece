#include "body/company.hpp"

#include <doctest/doctest.h>

#include "scene.hpp"

using namespace quarterturn::body;

namespace {

constexpr double rate_hz = 15;
constexpr double her_side = 600;

/// She stands at x = 500 for ten seconds.
std::vector<LandmarkFrame> standing() {
    std::vector<LandmarkFrame> frames;
    for (int i = 0; i < 150; ++i) {
        LandmarkFrame frame;
        frame.t_s = i / rate_hz;
        frame.body = Body{};
        frame.region = person_at(500, her_side).region;
        frames.push_back(frame);
    }
    return frames;
}

Sighting both(double t_s, double his_x) {
    return {t_s, {person_at(his_x, her_side), person_at(500, her_side)}};
}

struct Marked {
    double from_s = -1, to_s = -1;
    int count = 0;
};

Marked marked(const std::vector<LandmarkFrame>& frames) {
    Marked out;
    for (const LandmarkFrame& frame : frames) {
        if (!frame.company) continue;
        if (out.count++ == 0) out.from_s = frame.t_s;
        out.to_s = frame.t_s;
    }
    return out;
}

}  // namespace

TEST_CASE("pictures in which somebody passes are marked from before to after the two bodies overlap") {
    auto frames = standing();
    // Seen at 300 and 700 only: between them the detector takes both for one.
    mark_company(frames, std::vector{both(4.0, 300), Sighting{4.6, {person_at(500, her_side)}}, both(5.2, 700)});
    const Marked found = marked(frames);
    // 0.26 sides of 600 pixels are 156: from 344 to 656 at 333 pixels a second.
    CHECK(found.from_s == doctest::Approx(4.13).epsilon(0.02));
    CHECK(found.to_s == doctest::Approx(5.07).epsilon(0.02));
    CHECK(found.count == static_cast<int>((found.to_s - found.from_s) * rate_hz + 1.5));
}

TEST_CASE("a passer-by who was noticed late is marked from where he came, at a walk") {
    auto frames = standing();
    mark_company(frames, std::vector{both(5.0, 560), both(5.2, 640)});
    const Marked found = marked(frames);
    CHECK(found.from_s < 4.1);
    CHECK(found.to_s > 5.2);
    CHECK(found.to_s < 5.5);
}

TEST_CASE("nothing is marked where nobody passes") {
    auto frames = standing();
    SUBCASE("nobody else is seen") {
        mark_company(frames, std::vector{Sighting{4, {person_at(500, her_side)}}});
    }
    SUBCASE("somebody stands a step aside") {
        mark_company(frames, std::vector{both(3, 750), both(4, 752), both(5, 751)});
    }
    SUBCASE("somebody stands right behind her all the time") {
        std::vector<Sighting> sightings;
        for (int i = 0; i < 50; ++i) sightings.push_back(both(0.2 * i, 540));
        mark_company(frames, sightings);
    }
    SUBCASE("somebody far behind is much smaller") {
        mark_company(frames, std::vector{Sighting{4, {person_at(520, 150), person_at(500, her_side)}}});
    }
    CHECK(marked(frames).count == 0);
}
