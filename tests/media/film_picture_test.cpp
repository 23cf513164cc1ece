#include "media/film_picture.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "media/exact_reader.hpp"
#include "media/film_writer.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::media;
using namespace quarterturn::test;

namespace {

Image plain(int width, int height, std::array<std::uint8_t, 3> colour) {
    Image image{width, height, 3, {}};
    for (int i = 0; i < width * height; ++i) image.samples.insert(image.samples.end(), colour.begin(), colour.end());
    return image;
}

std::array<int, 3> middle_of(const Picture& picture) {
    std::array<int, 3> out{};
    for (std::size_t p = 0; p < 3; ++p) {
        const Plane& plane = picture.planes[p];
        out[p] = plane.data[plane.height / 2 * plane.stride_bytes + plane.width / 2];
    }
    return out;
}

void check_near(const std::array<int, 3>& found, const std::array<int, 3>& meant) {
    for (std::size_t p = 0; p < 3; ++p) CHECK(std::abs(found[p] - meant[p]) <= 2);
}

}  // namespace

TEST_CASE("primaries become the BT.709 values of limited range") {
    // ITU-R BT.709: Kr 0.2126, Kb 0.0722; 8 bit limited range, black 16, white 235, chroma 128 +- 112.
    const auto converted = [](std::array<std::uint8_t, 3> colour) {
        const auto picture = film_picture(plain(16, 16, colour));
        REQUIRE(picture);
        CHECK(is_film_picture(*picture));
        return middle_of(*picture);
    };
    check_near(converted({255, 0, 0}), {63, 102, 240});
    check_near(converted({0, 255, 0}), {173, 42, 26});
    check_near(converted({0, 0, 255}), {32, 240, 118});
    check_near(converted({255, 255, 255}), {235, 128, 128});
    check_near(converted({0, 0, 0}), {16, 128, 128});
}

TEST_CASE("a picture as films are written is handed on without a copy, others are converted") {
    const auto made = film_picture(plain(16, 16, {255, 0, 0}));
    REQUIRE(made);
    const auto same = film_picture(*made);
    REQUIRE(same);
    CHECK(same->planes[0].data == made->planes[0].data);

    // BT.601 red: 81 90 240 (Kr 0.299, Kb 0.114).
    BlankPicture blank = blank_picture(16, 16);
    std::fill_n(blank.planes[0], 256, std::uint8_t{81});
    std::fill_n(blank.planes[1], 64, std::uint8_t{90});
    std::fill_n(blank.planes[2], 64, std::uint8_t{240});
    Picture other = blank.picture(7);
    other.colour.matrix = Matrix::bt601;
    CHECK_FALSE(is_film_picture(other));
    const auto converted = film_picture(other);
    REQUIRE(converted);
    CHECK(converted->pts == 7);
    check_near(middle_of(*converted), {63, 102, 240});

    // An odd size is filled up by repeating its edge.
    Picture odd = other;
    odd.width = odd.height = 15;
    for (std::size_t p = 0; p < 3; ++p) odd.planes[p].width = odd.planes[p].height = p == 0 ? 15 : 8;
    const auto filled = film_picture(odd);
    REQUIRE(filled);
    CHECK(filled->planes[0].width == 16);
    check_near(middle_of(*filled), {63, 102, 240});
}

TEST_CASE("planar pictures are written as they are, and only those") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "plain.mp4";
    FilmSettings settings;
    settings.width = settings.height = 32;
    settings.quality = 0;
    auto writer = FilmWriter::create(path, settings);
    REQUIRE(writer);
    BlankPicture blank = blank_picture(32, 32);
    std::fill_n(blank.planes[0], 1024, std::uint8_t{101});
    Picture picture = blank.picture(0);
    REQUIRE(writer->add(picture, 0));
    CHECK(writer->add(picture, 0).error().code == ErrorCode::bad_input);  // not later than the one before
    REQUIRE(writer->add(picture, 3000));
    Picture other = picture;
    other.colour.range = Range::full;
    CHECK(writer->add(other, 6000).error().code == ErrorCode::bad_input);
    CHECK(writer->add(blank_picture(16, 32).picture(0), 6000).error().code == ErrorCode::bad_input);
    REQUIRE(writer->finish());
    auto reader = ExactReader::open(path);
    REQUIRE(reader);
    CHECK(middle_of(*reader->frame_of_rank(1)) == std::array{101, 128, 128});
}
