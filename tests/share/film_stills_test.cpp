#include "share/film_stills.hpp"

#include <doctest.h>

#include "media/film_writer.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::share;

namespace {

/// Ten grey pictures of 64 x 96, one per second; picture i is brighter by 10 i, with a dark block on one side.
void write_film(const std::filesystem::path& path, bool block_right) {
    auto writer = media::FilmWriter::create(path, {.width = 64, .height = 96, .time_base = {1, 1000}, .quality = 0});
    REQUIRE(writer);
    for (int i = 0; i < 10; ++i) {
        media::Image image{64, 96, 3, std::vector<std::uint8_t>(64 * 96 * 3, static_cast<std::uint8_t>(100 + 10 * i))};
        for (std::size_t y = 16; y < 48; ++y) {
            for (std::size_t x = 0; x < 16 * 3; ++x) image.samples[(y * 64 + (block_right ? 48 : 0)) * 3 + x] = 30;
        }
        REQUIRE(writer->add(image, 1000 * i));
    }
    REQUIRE(writer->finish());
}

journal::Clip clip_at(const std::filesystem::path& path) {
    journal::Clip clip;
    clip.id = path.filename().string();  // stands for the fingerprint: another film, another id
    clip.path = path.string();
    return clip;
}

Result<std::filesystem::path> where(const journal::Clip& clip) {
    return std::filesystem::path{clip.path};
}

}  // namespace

TEST_CASE("a still is the picture nearest to the moment, in the page's own format") {
    const test::TemporaryFolder folder;
    write_film(folder.path() / "a.mp4", false);
    FilmStills stills{where, 480};
    const journal::Clip clip = clip_at(folder.path() / "a.mp4");
    const auto third = stills.at(clip, 3 * 16000);  // the writer's film may count in another base: any moment will do
    REQUIRE(third);
    CHECK(third->data_uri.starts_with("data:image/jpeg;base64,/9j/"));
    CHECK(third->width == 64);
    CHECK(third->height == 96);
    const auto first = stills.at(clip, -5);
    REQUIRE(first);
    CHECK(first->data_uri == stills.at(clip, 0)->data_uri);
    CHECK(first->data_uri != third->data_uri);
}

TEST_CASE("a film with left and right swapped is shown the right way round") {
    const test::TemporaryFolder folder;
    write_film(folder.path() / "left.mp4", false);
    write_film(folder.path() / "right.mp4", true);
    FilmStills stills{where, 480};
    journal::Clip swapped = clip_at(folder.path() / "left.mp4");
    const auto as_stored = stills.at(swapped, 0);
    swapped.mirrored = true;
    const auto shown = stills.at(swapped, 0);
    const auto expected = stills.at(clip_at(folder.path() / "right.mp4"), 0);
    REQUIRE(shown);
    REQUIRE(expected);
    CHECK(shown->data_uri == expected->data_uri);
    CHECK(shown->data_uri != as_stored->data_uri);
}

TEST_CASE("a rotation the person gave wins over the file's, and the height is kept to") {
    const test::TemporaryFolder folder;
    write_film(folder.path() / "a.mp4", false);
    FilmStills stills{where, 48};
    journal::Clip clip = clip_at(folder.path() / "a.mp4");
    CHECK(stills.at(clip, 0)->height == 48);
    CHECK(stills.at(clip, 0)->width == 32);
    clip.rotation_deg = 90;
    const auto turned = stills.at(clip, 0);
    REQUIRE(turned);
    CHECK(turned->width > turned->height);
}

TEST_CASE("a film that is gone is an error that says so, and the next film still works") {
    const test::TemporaryFolder folder;
    write_film(folder.path() / "a.mp4", false);
    FilmStills stills{where, 480};
    CHECK(stills.at(clip_at(folder.path() / "gone.mp4"), 0).error().code == ErrorCode::not_found);
    CHECK(stills.at(clip_at(folder.path() / "a.mp4"), 0));
}
