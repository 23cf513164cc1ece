// Display matrices of ISO/IEC 14496-12 (tkhd): nine numbers a b u c d v x y w, x' = a x + c y + tx, y' = b x + d y +
// ty. The ffmpeg program's own turning of the same file is the second opinion.
#include <doctest.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>

#include "base/file.hpp"
#include "media/describe.hpp"
#include "media/image.hpp"
#include "media/linear_reader.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

namespace {

constexpr std::int32_t one = 65536;

Turn turn(std::int32_t a, std::int32_t b, std::int32_t c, std::int32_t d) {
    const std::int32_t matrix[9] = {a, b, 0, c, d, 0, 0, 0, 1 << 30};
    return turn_from(matrix);
}

std::string big_endian(std::int32_t value) {
    const auto bits = static_cast<std::uint32_t>(value);
    return {static_cast<char>(bits >> 24U), static_cast<char>(bits >> 16U), static_cast<char>(bits >> 8U),
            static_cast<char>(bits)};
}

/// A 64 x 48 film with these four numbers in its track header.
std::filesystem::path film_with(const test::TemporaryFolder& folder, std::int32_t a, std::int32_t b, std::int32_t c,
                                std::int32_t d) {
    const auto path = folder.path() / "film.mp4";
    const std::string command =
        "ffmpeg -nostdin -v error -y -f lavfi -i testsrc2=size=64x48:rate=10:duration=0.3 -c:v libx264 -qp 0 -pix_fmt "
        "yuv420p '" +
        path.string() + "'";
    REQUIRE(std::system(command.c_str()) == 0);
    std::string bytes = read_file(path).value();
    const std::string identity = big_endian(one) + big_endian(0) + big_endian(0) + big_endian(0) + big_endian(one);
    const std::size_t at = bytes.find(identity, bytes.find("tkhd"));
    REQUIRE(at != std::string::npos);
    bytes.replace(at, identity.size(), big_endian(a) + big_endian(b) + big_endian(0) + big_endian(c) + big_endian(d));
    REQUIRE(write_file(path, bytes));
    return path;
}

/// First picture as the ffmpeg program shows it, grey.
std::string shown_by_ffmpeg(const std::filesystem::path& film, const test::TemporaryFolder& folder) {
    const auto raw = folder.path() / "raw";
    const std::string command = "ffmpeg -nostdin -v error -y -i '" + film.string() +
                                "' -frames:v 1 -pix_fmt yuv420p -f rawvideo '" + raw.string() + "'";
    REQUIRE(std::system(command.c_str()) == 0);
    return read_file(raw).value().substr(0, 64 * 48);
}

int stretched(unsigned char luma) {
    return std::min(255, std::max(0, static_cast<int>((luma - 16) * 255.0 / 219 + 0.5)));
}

}  // namespace

TEST_CASE("a display matrix gives the rotation ffprobe prints") {
    CHECK(turn(one, 0, 0, one).rotation_deg == 0);
    CHECK(turn(0, one, -one, 0).rotation_deg == -90);
    CHECK(turn(0, -one, one, 0).rotation_deg == 90);
    CHECK(turn(-one, 0, 0, -one).rotation_deg == 180);
    CHECK_FALSE(turn(0, one, -one, 0).flipped);
    CHECK(turn(one, 0, 0, -one).flipped);
    CHECK(turn(-one, 0, 0, one).flipped);
    CHECK_FALSE(turn(46341, 46341, -46341, 46341).exact);
    CHECK(turn(0, 0, 0, 0).rotation_deg == 0);
}

TEST_CASE("every turn and mirroring is shown as the ffmpeg program shows it") {
    const std::int32_t cases[][4] = {{one, 0, 0, one},  {0, one, -one, 0}, {0, -one, one, 0}, {-one, 0, 0, -one},
                                     {one, 0, 0, -one}, {-one, 0, 0, one}, {0, one, one, 0},  {0, -one, -one, 0}};
    for (const auto& m : cases) {
        CAPTURE(m[0]);
        CAPTURE(m[1]);
        CAPTURE(m[2]);
        CAPTURE(m[3]);
        const test::TemporaryFolder folder;
        const auto film = film_with(folder, m[0], m[1], m[2], m[3]);
        auto reader = LinearReader::open(film);
        REQUIRE(reader);
        const auto picture = reader->next();
        REQUIRE(picture);
        REQUIRE(*picture);
        const Image image = to_grey(**picture, reader->info()).value();
        const bool lies = m[0] == 0;
        CHECK(image.width == (lies ? 48 : 64));
        CHECK(image.height == (lies ? 64 : 48));
        CHECK(reader->info().shown_width() == image.width);
        const std::string expected = shown_by_ffmpeg(film, folder);
        REQUIRE(expected.size() == image.samples.size());
        int wrong = 0;
        for (std::size_t i = 0; i < expected.size(); ++i)
            wrong += std::abs(stretched(static_cast<unsigned char>(expected[i])) - image.samples[i]) > 1 ? 1 : 0;
        CHECK(wrong == 0);
        const Image colour = to_rgb(**picture, reader->info()).value();
        CHECK(colour.width == image.width);
    }
}
