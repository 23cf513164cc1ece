#include <doctest.h>

#include "app/film_jobs.hpp"
#include "media/film_writer.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::app;

namespace {

// Grey, 64 wide and 96 high, with a dark block in the upper left corner.
void write_film(const std::filesystem::path& path) {
    auto writer = media::FilmWriter::create(path, {.width = 64, .height = 96, .time_base = {1, 1000}, .quality = 0});
    REQUIRE(writer);
    media::Image image{64, 96, 3, std::vector<std::uint8_t>(64 * 96 * 3, 180)};
    for (std::size_t y = 0; y < 24; ++y)
        for (std::size_t x = 0; x < 16 * 3; ++x) image.samples[y * 64 * 3 + x] = 20;
    for (int i = 0; i < 3; ++i) REQUIRE(writer->add(image, 1000 * i));
    REQUIRE(writer->finish());
}

media::Image still(const std::filesystem::path& film, const share::Upright& upright) {
    NewsBox news;
    make_stills(news, film, upright, {0}, {});
    auto made = news.take();
    REQUIRE(made.size() == 1);
    auto* piece = std::get_if<StillMade>(&made[0]);
    REQUIRE(piece != nullptr);
    CHECK(piece->upright == upright);
    return std::move(piece->image);
}

bool dark(const media::Image& image, double x, double y) {
    const auto at = static_cast<std::size_t>(y * (image.height - 1)) * static_cast<std::size_t>(image.width) +
                    static_cast<std::size_t>(x * (image.width - 1));
    return image.samples[at * 3] < 100;
}

}  // namespace

TEST_CASE("the small pictures on the cards stand upright: turned, tilted and mirrored back") {
    const test::TemporaryFolder folder;
    const auto film = folder.path() / "film.mp4";
    write_film(film);
    const media::Image plain = still(film, {});
    CHECK(plain.width == 64);
    CHECK(dark(plain, 0.1, 0.1));
    const media::Image turned = still(film, {-90, 0, false});
    CHECK(turned.width == 96);
    CHECK(turned.height == 64);
    CHECK(dark(turned, 0.9, 0.1));
    CHECK_FALSE(dark(turned, 0.1, 0.1));
    const media::Image mirrored = still(film, {std::nullopt, 0, true});
    CHECK(dark(mirrored, 0.9, 0.1));
    // Clockwise by 20 degrees the upper left corner moves to the right and up; what is at the left edge a bit lower
    // was in the block's place before.
    CHECK_FALSE(dark(plain, 0.4, 0.05));
    CHECK(dark(still(film, {std::nullopt, 20, false}), 0.4, 0.05));
    CHECK_FALSE(dark(still(film, {std::nullopt, -20, false}), 0.4, 0.05));
}
