#include <doctest.h>

#include "journal/cache.hpp"
#include "media/film_writer.hpp"
#include "one_clip_library.hpp"
#include "share/measure.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::share;

namespace {

/// Three seconds of a square that wanders.
void write_film(const std::filesystem::path& path) {
    auto writer = media::FilmWriter::create(path, {.width = 64, .height = 96, .time_base = {1, 1000}, .quality = 0});
    REQUIRE(writer);
    for (std::size_t i = 0; i < 30; ++i) {
        media::Image image{64, 96, 3, std::vector<std::uint8_t>(64 * 96 * 3, 120)};
        for (std::size_t y = 30; y < 50; ++y)
            for (std::size_t x = 3 * (10 + i); x < 3 * (24 + i); ++x) image.samples[y * 64 * 3 + x] = 30;
        REQUIRE(writer->add(image, static_cast<std::int64_t>(100 * i)));
    }
    REQUIRE(writer->finish());
}

}  // namespace

TEST_CASE("a clip is measured, measured otherwise, by an older version, or not at all") {
    const test::TemporaryFolder folder;
    write_film(folder.path() / "film.mp4");
    const auto made = test::one_clip_library(folder.path() / "library", folder.path() / "film.mp4");
    const journal::Store& store = made.store;
    journal::Library library = *store.read();
    MeasureSettings settings;
    settings.method = posing::Method::motion;
    const auto state = [&] { return measured_states(store, library, settings).at(made.clip); };
    CHECK(state() == MeasuredState::not_measured);
    REQUIRE(journal::Cache{store.cache_folder()}.write(journal::CacheKind::analysis, made.clip,
                                                       "motion-1-0123456789abcdef", "{}"));
    CHECK(state() == MeasuredState::older_version);
    REQUIRE(measure_clip(store, library, library.clips[0], settings));
    CHECK(state() == MeasuredState::measured);
    library.clips[0].tilt_deg = 3;
    CHECK(state() == MeasuredState::other_settings);
    library.clips[0].tilt_deg = 0;  // level: not the same as estimated
    CHECK(state() == MeasuredState::other_settings);
    library.clips[0].tilt_deg.reset();
    CHECK(state() == MeasuredState::measured);
    library.seasons[0].rule_set = "womens_bikini";
    CHECK(state() == MeasuredState::other_settings);
}
