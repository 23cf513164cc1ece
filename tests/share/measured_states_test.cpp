#include <doctest.h>

#include "journal/cache.hpp"
#include "media/film_writer.hpp"
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

const journal::Author mara{"Mara", journal::Role::athlete};
const std::string fingerprint = "sha256:" + std::string(64, 'a');

journal::Store shelf(const std::filesystem::path& folder) {
    write_film(folder / "film.mp4");
    auto store = journal::Store::create(folder / "library", "Mara's", mara);
    REQUIRE(store);
    journal::Season season;
    season.title = "Spring";
    season.show_date = *parse_date("2026-05-30");
    season.rule_set = "womens_figure";
    const auto added = store->add_season(season, mara);
    REQUIRE(added);
    journal::ClipFacts facts;
    facts.fingerprint = fingerprint;
    facts.path = folder / "film.mp4";
    facts.file_bytes = std::filesystem::file_size(facts.path);
    journal::AddOptions options;
    options.date = *parse_date("2026-03-07");
    REQUIRE(store->add_clips(added->id, {&facts, 1}, options, mara));
    return std::move(*store);
}

}  // namespace

TEST_CASE("a clip is measured, measured otherwise, by an older version, or not at all") {
    const test::TemporaryFolder folder;
    const journal::Store store = shelf(folder.path());
    journal::Library library = *store.read();
    MeasureSettings settings;
    settings.method = posing::Method::motion;
    const auto state = [&] { return measured_states(store, library, settings).at(fingerprint); };
    CHECK(state() == MeasuredState::not_measured);
    REQUIRE(journal::Cache{store.cache_folder()}.write(journal::CacheKind::analysis, fingerprint,
                                                       "motion-1-0123456789abcdef", "{}"));
    CHECK(state() == MeasuredState::older_version);
    REQUIRE(measure_clip(store, library, library.clips[0], settings));
    CHECK(state() == MeasuredState::measured);
    library.clips[0].tilt_deg = 3;
    CHECK(state() == MeasuredState::other_settings);
    library.clips[0].tilt_deg = 0;
    CHECK(state() == MeasuredState::measured);
    library.seasons[0].rule_set = "womens_bikini";
    CHECK(state() == MeasuredState::other_settings);
}
