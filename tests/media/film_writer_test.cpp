#include "media/film_writer.hpp"

#include <doctest.h>
#include <sys/stat.h>

#include <cmath>
#include <cstdlib>

#include "base/file.hpp"
#include "media/films.hpp"
#include "media/linear_reader.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::media;
using test::TemporaryFolder;

namespace {

/// A picture of one colour.
Image plain(int width, int height, std::uint8_t r, std::uint8_t g, std::uint8_t b) {
    Image image{width, height, 3, {}};
    for (int i = 0; i < width * height; ++i) image.samples.insert(image.samples.end(), {r, g, b});
    return image;
}

void write(const std::filesystem::path& path, const FilmSettings& settings, int count) {
    auto writer = FilmWriter::create(path, settings);
    REQUIRE(writer);
    const std::vector<float> sound(1600, 0.1F);
    for (int i = 0; i < count; ++i) {
        REQUIRE(
            writer->add(plain(settings.width, settings.height, 200, static_cast<std::uint8_t>(i * 5), 60), i * 3000));
        if (settings.audio_rate_hz > 0) REQUIRE(writer->add_sound(sound));
    }
    REQUIRE(writer->finish());
}

int files_in(const std::filesystem::path& folder) {
    return static_cast<int>(std::distance(std::filesystem::directory_iterator{folder}, {}));
}

}  // namespace

TEST_CASE("a written film is read back with its times, colours and rotation, for the owner only") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "film.mp4";
    write(path, {.width = 64, .height = 48, .quality = 10, .rotation_deg = -90, .audio_rate_hz = 48000}, 20);
    CHECK(files_in(folder.path()) == 1);
    struct stat facts {};
    REQUIRE(::stat(path.c_str(), &facts) == 0);
    CHECK((facts.st_mode & 0777U) == 0600U);
    auto reader = LinearReader::open(path);
    REQUIRE(reader);
    const ClipInfo& info = reader->info();
    CHECK(info.frames_claimed == 20);
    CHECK(info.rotation_deg == -90);
    CHECK(info.shown_width() == 48);
    CHECK(info.shown_height() == 64);
    CHECK((info.colour == Colour{Matrix::bt709, Range::limited, Transfer::standard}));
    REQUIRE(info.audio.size() == 1);
    CHECK(info.audio[0].channels == 1);
    CHECK(info.duration_s == doctest::Approx(20 * 3000 / 90000.0));
    for (int i = 0; i < 20; ++i) {
        const auto picture = reader->next();
        REQUIRE(picture);
        REQUIRE(*picture);
        CHECK((*picture)->pts == i * 3000);
        const Image shown = to_rgb(**picture, info).value();
        REQUIRE(shown.width == 48);
        const std::size_t middle = (32 * 48 + 24) * 3;
        CHECK(std::abs(shown.samples[middle] - 200) <= 4);
        CHECK(std::abs(shown.samples[middle + 1] - i * 5) <= 4);
        CHECK(std::abs(shown.samples[middle + 2] - 60) <= 4);
    }
}

TEST_CASE("an unfinished film leaves nothing behind") {
    const TemporaryFolder folder;
    {
        auto writer = FilmWriter::create(folder.path() / "film.mp4", {.width = 64, .height = 48});
        REQUIRE(writer);
        for (int i = 0; i < 5; ++i) REQUIRE(writer->add(plain(64, 48, 10, 20, 30), i * 3000));
    }
    CHECK(files_in(folder.path()) == 0);
}

TEST_CASE("a film of one picture is a film") {
    const TemporaryFolder folder;
    write(folder.path() / "film.mp4", {.width = 64, .height = 48}, 1);
    CHECK(probe(folder.path() / "film.mp4").value().frames_claimed == 1);
}

TEST_CASE("the same pictures make the same bytes when asked") {
    const TemporaryFolder folder;
    const FilmSettings settings{.width = 64, .height = 48, .audio_rate_hz = 44100, .deterministic = true};
    write(folder.path() / "a.mp4", settings, 40);
    write(folder.path() / "b.mp4", settings, 40);
    CHECK((read_file(folder.path() / "a.mp4").value() == read_file(folder.path() / "b.mp4").value()));
}

TEST_CASE("a film carries no place, device, program or clock time unless one is set") {
    const TemporaryFolder folder;
    const auto path = folder.path() / "film.mp4";
    write(path, {.width = 64, .height = 48}, 5);
    const std::string tags =
        test::run("ffprobe -v error -show_entries format_tags:stream_tags -of csv=p=0 '" + path.string() + "'");
    CHECK(tags.find("creation") == std::string::npos);
    CHECK(tags.find("Lavf") == std::string::npos);
    CHECK(tags.find("Lavc") == std::string::npos);
    CHECK_FALSE(probe(path).value().recorded_at);
    const Instant when = parse_instant("2026-05-03T09:15:00Z").value();
    write(path, {.width = 64, .height = 48, .recorded_at = when}, 5);
    CHECK((probe(path).value().recorded_at == std::optional<Instant>{when}));
}

TEST_CASE("what cannot be written is refused in words") {
    const TemporaryFolder folder;
    CHECK(FilmWriter::create(folder.path() / "x.mp4", {.width = 63, .height = 48}).error().code ==
          ErrorCode::bad_input);
    CHECK(FilmWriter::create(folder.path() / "no" / "x.mp4", {.width = 64, .height = 48}).error().code ==
          ErrorCode::not_found);
    auto writer = FilmWriter::create(folder.path() / "x.mp4", {.width = 64, .height = 48});
    REQUIRE(writer);
    REQUIRE(writer->add(plain(64, 48, 1, 2, 3), 10));
    CHECK(writer->add(plain(64, 48, 1, 2, 3), 10).error().code == ErrorCode::bad_input);
    CHECK(writer->add(plain(32, 48, 1, 2, 3), 20).error().code == ErrorCode::bad_input);
    CHECK(FilmWriter::create(folder.path() / "y.mp4", {.width = 64, .height = 48}).value().finish().error().code ==
          ErrorCode::bad_input);
    CHECK(files_in(folder.path()) <= 1);
}
