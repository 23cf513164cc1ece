// Masks whose outline is known.
#include "body/mask_outline.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "scene.hpp"

using namespace quarterturn::body;

namespace {

struct Disc {
    double x, y, radius;  ///< mask pixels
};

/// Positive inside any of the discs: the logit is how far inside, in mask pixels.
std::vector<float> mask_of(const std::vector<Disc>& discs) {
    std::vector<float> mask;
    for (int row = 0; row < mask_side; ++row)
        for (int column = 0; column < mask_side; ++column) {
            double most = -1000;
            for (const Disc& d : discs)
                most = std::max(most, d.radius - std::hypot(column + 0.5 - d.x, row + 0.5 - d.y));
            mask.push_back(static_cast<float>(most));
        }
    return mask;
}

}  // namespace

TEST_CASE("the outline of a disc is a closed circle where the disc lies in the picture") {
    // A square of 512 pixels around (300, 400): one mask pixel is two pixels.
    const auto pieces = mask_outline(mask_of({{128, 128, 60}}), {{300, 400}, 2.0 * mask_side, 0});
    REQUIRE(pieces.size() > 300);
    std::map<std::pair<long, long>, int> ends;
    for (const auto& [a, b] : pieces)
        for (const Point& p : {a, b}) {
            CHECK(std::hypot(p.x - 300, p.y - 400) == doctest::Approx(120).epsilon(0.001));
            ++ends[{std::lround(p.x * 1e4), std::lround(p.y * 1e4)}];
        }
    for (const auto& [place, count] : ends) CHECK(count == 2);
}

TEST_CASE("a turned square turns the outline with it") {
    // A disc above the middle of a square turned a quarter clockwise lies to the right of it in the picture.
    const auto pieces = mask_outline(mask_of({{128, 48, 24}}), {{100, 200}, 1.0 * mask_side, 1.5707963267948966});
    REQUIRE_FALSE(pieces.empty());
    for (const auto& [a, b] : pieces) {
        CHECK(a.x > 100 + 55);
        CHECK(std::abs(a.y - 200) < 25);
    }
}

TEST_CASE("specks beside the body have no outline") {
    const auto body_alone = mask_of({{128, 128, 60}}), with_speck = mask_of({{128, 128, 60}, {20, 20, 3}});
    const Region region{{128, 128}, 1.0 * mask_side, 0};
    CHECK(mask_outline(with_speck, region).size() == mask_outline(body_alone, region).size());
}

TEST_CASE("a mask without a person, or of another size, has no outline") {
    CHECK(mask_outline(mask_of({}), {{50, 50}, 80, 0}).empty());
    CHECK(mask_outline({}, {{50, 50}, 80, 0}).empty());
}

TEST_CASE("of several people the one at the hips is read, and nobody is no error") {
    const quarterturn::media::Image picture{scene_side, scene_side, 1,
                                            std::vector<std::uint8_t>(scene_side * scene_side)};
    std::vector<Region> read;
    struct Reader final : BodyReader {
        explicit Reader(std::vector<Region>& regions) : read_regions(regions) {}
        std::vector<Person> people;
        std::vector<Region>& read_regions;
        quarterturn::Result<std::vector<Person>> find(const PictureView&) override { return people; }
        quarterturn::Result<Reading> read(const PictureView&, const Region& region, bool) override {
            read_regions.push_back(region);
            return Reading{};  // unsure: no outline
        }
    } reader{read};
    CHECK(outline_in(reader, PictureView{picture})->empty());
    reader.people = {person_at(200, 300), person_at(800, 300)};
    CHECK(outline_in(reader, PictureView{picture}, Point{790, 500})->empty());
    REQUIRE_FALSE(read.empty());
    CHECK(read.front().centre.x == 800);
}
