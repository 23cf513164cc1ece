#include "media/image.hpp"

#include <doctest.h>

#include <cstdlib>

#include "base/file.hpp"
#include "media/films.hpp"
#include "media/linear_reader.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::media;
using test::TemporaryFolder;

namespace {

/// A slope in both directions with a mark in the top left corner.
Image slope(int width, int height, int channels) {
    Image image{width, height, channels, {}};
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int c = 0; c < channels; ++c)
                image.samples.push_back(
                    static_cast<std::uint8_t>(x < 8 && y < 8 ? 255 : (x * 3 + y * 2 + c * 40) % 200));
    return image;
}

std::string decoded_by_ffmpeg(const std::filesystem::path& path, const char* format) {
    return test::run("ffmpeg -nostdin -v error -i '" + path.string() + "' -f rawvideo -pix_fmt " + format + " -");
}

std::string text_of(const Image& image) {
    return {image.samples.begin(), image.samples.end()};
}

}  // namespace

TEST_CASE("a PNG holds exactly the samples, and nothing that names the program or a time") {
    const TemporaryFolder folder;
    for (const int channels : {1, 3}) {
        const Image image = slope(37, 21, channels);
        const std::string png = encode_png(image).value();
        REQUIRE(write_file(folder.path() / "a.png", png));
        CHECK((decoded_by_ffmpeg(folder.path() / "a.png", channels == 1 ? "gray" : "rgb24") == text_of(image)));
        for (const char* chunk : {"tEXt", "zTXt", "iTXt", "tIME", "eXIf", "Lav"})
            CHECK(png.find(chunk) == std::string::npos);
    }
}

TEST_CASE("a JPEG looks like the picture, the better the higher the quality, and names no program") {
    const TemporaryFolder folder;
    const Image image = slope(64, 48, 3);
    std::size_t last_size = 0;
    for (const int quality : {20, 60, 95}) {
        const std::string jpeg = encode_jpeg(image, quality).value();
        CHECK(jpeg.size() > last_size);
        CHECK(jpeg.find("Lav") == std::string::npos);
        last_size = jpeg.size();
        REQUIRE(write_file(folder.path() / "a.jpg", jpeg));
    }
    const std::string back = decoded_by_ffmpeg(folder.path() / "a.jpg", "rgb24");
    REQUIRE(back.size() == image.samples.size());
    double error = 0;
    for (std::size_t i = 0; i < back.size(); ++i)
        error += std::abs(static_cast<unsigned char>(back[i]) - image.samples[i]);
    CHECK(error / static_cast<double>(back.size()) < 12);  // chroma is halved; the slope's jumps blur
}

TEST_CASE("an image without its samples is refused") {
    CHECK(encode_png({}).error().code == ErrorCode::bad_input);
    CHECK(encode_jpeg({10, 10, 3, {1, 2, 3}}).error().code == ErrorCode::bad_input);
}

TEST_CASE("a reduced image keeps the shape, also with samples that are not square") {
    const auto path = test::film("wide.mkv", "{pattern} -t 0.2 -vf setsar=4/3 -c:v libx264 -pix_fmt yuv420p");
    auto reader = LinearReader::open(path);
    REQUIRE(reader);
    const auto picture = reader->next();
    REQUIRE(picture);
    REQUIRE(*picture);
    CHECK(reader->info().shown_width() == 213);
    CHECK(reader->info().shown_height() == 120);
    const Image half = to_rgb(**picture, reader->info(), 60).value();
    CHECK(half.height == 60);
    CHECK(half.width == 107);
    CHECK(half.samples.size() == 60U * 107U * 3U);
    const Image grey = to_grey(**picture, reader->info(), 60).value();
    CHECK(grey.width == half.width);
    CHECK(grey.channels == 1);
    // More rows than there are: full size.
    CHECK(to_grey(**picture, reader->info(), 5000).value().height == 120);
}
