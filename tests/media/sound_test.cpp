#include "media/sound.hpp"

#include <doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "media/film_writer.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

namespace {

constexpr int rate = 48000;

// Three seconds: silence, and from second 1 to second 2 a tone of 440 Hz.
std::filesystem::path film_with_tone(const std::filesystem::path& folder) {
    FilmSettings settings;
    settings.width = 64;
    settings.height = 64;
    settings.audio_rate_hz = rate;
    auto writer = FilmWriter::create(folder / "tone.mp4", settings);
    REQUIRE(writer);
    Image grey{64, 64, 3, std::vector<std::uint8_t>(64 * 64 * 3, 128)};
    for (int i = 0; i < 90; ++i) REQUIRE(writer->add(grey, i * 3000));
    std::vector<float> samples(rate * 3, 0.0F);
    for (std::size_t i = rate; i < 2 * rate; ++i)
        samples[i] = 0.5F * static_cast<float>(std::sin(2 * std::numbers::pi * 440 * static_cast<double>(i) / rate));
    REQUIRE(writer->add_sound(samples));
    REQUIRE(writer->finish());
    return folder / "tone.mp4";
}

std::vector<float> all_sound(SoundReader& reader) {
    std::vector<float> samples;
    for (std::size_t had = 1; had != samples.size();) {
        had = samples.size();
        REQUIRE(reader.read(4096, samples));
    }
    return samples;
}

// Seconds into the sound (left channel) of the first loud sample.
double loud_from(const std::vector<float>& samples) {
    for (std::size_t i = 0; i < samples.size(); i += 2)
        if (std::abs(samples[i]) > 0.2F) return static_cast<double>(i / 2) / rate;
    return -1;
}

double tone_hz(const std::vector<float>& samples, double from_s, double to_s) {
    int crossings = 0;
    for (auto i = static_cast<std::size_t>(from_s * rate); i + 1 < static_cast<std::size_t>(to_s * rate); ++i)
        crossings += samples[i * 2] < 0 && samples[i * 2 + 2] >= 0 ? 1 : 0;
    return crossings / (to_s - from_s);
}

}  // namespace

TEST_CASE("sound starts where it is asked to, to a few thousandths of a second") {
    const test::TemporaryFolder folder;
    auto reader = SoundReader::open(film_with_tone(folder.path()));
    REQUIRE(reader);
    for (const double from : {0.0, 0.4, 0.9}) {
        REQUIRE(reader->start(from, 1));
        // The codec smears an onset over a few milliseconds.
        CHECK(loud_from(all_sound(*reader)) == doctest::Approx(1 - from).epsilon(0.01));
    }
}

TEST_CASE("half speed takes twice as long and keeps the pitch") {
    const test::TemporaryFolder folder;
    auto reader = SoundReader::open(film_with_tone(folder.path()));
    REQUIRE(reader);
    for (const double speed : {0.5, 0.25, 2.0}) {
        REQUIRE(reader->start(0, speed));
        const auto samples = all_sound(*reader);
        CHECK(static_cast<double>(samples.size()) / 2 / rate == doctest::Approx(3 / speed).epsilon(0.05));
        CHECK(tone_hz(samples, 1.2 / speed, 1.8 / speed) == doctest::Approx(440).epsilon(0.03));
    }
}

TEST_CASE("a film without sound says so, and an absurd speed is refused") {
    const test::TemporaryFolder folder;
    FilmSettings settings;
    settings.width = 64;
    settings.height = 64;
    auto writer = FilmWriter::create(folder.path() / "silent.mp4", settings);
    REQUIRE(writer);
    REQUIRE(writer->add(Image{64, 64, 3, std::vector<std::uint8_t>(64 * 64 * 3, 128)}, 0));
    REQUIRE(writer->finish());
    CHECK(SoundReader::open(folder.path() / "silent.mp4").error().code == ErrorCode::missing_part);
    auto reader = SoundReader::open(film_with_tone(folder.path()));
    REQUIRE(reader);
    CHECK(reader->start(0, 0).error().code == ErrorCode::bad_input);
}
