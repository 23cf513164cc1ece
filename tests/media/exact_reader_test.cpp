#include "media/exact_reader.hpp"

#include <doctest.h>

#include <algorithm>
#include <numeric>
#include <random>

#include "media/films.hpp"
#include "media/linear_reader.hpp"
#include "media/samples.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

namespace {

struct Known {
    std::int64_t pts = 0;
    std::string samples;
};

/// What linear decoding gives (and linear_reader_test compares with the ffmpeg program).
std::vector<Known> by_linear_decoding(const std::filesystem::path& path) {
    std::vector<Known> known;
    auto reader = LinearReader::open(path, {2});
    REQUIRE(reader);
    for (;;) {
        const auto picture = reader->next();
        REQUIRE(picture);
        if (!*picture) return known;
        known.push_back({(*picture)->pts, test::samples_of(**picture)});
    }
}

std::vector<std::size_t> shuffled_ranks(std::size_t count, unsigned seed) {
    std::vector<std::size_t> ranks(count);
    std::iota(ranks.begin(), ranks.end(), std::size_t{0});
    std::shuffle(ranks.begin(), ranks.end(), std::mt19937{seed});
    return ranks;
}

bool is(const Result<Picture>& picture, const Known& known) {
    return picture && picture->pts == known.pts && test::samples_of(*picture) == known.samples;
}

}  // namespace

TEST_CASE("every picture of every kind reached in random order is the one of linear decoding") {
    for (const test::FilmKind& kind : test::film_kinds()) {
        CAPTURE(kind.name);
        const std::vector<Known> known = by_linear_decoding(kind.path);
        // Without room in the cache every request is a seek of its own.
        auto reader = ExactReader::open(kind.path, {.threads = 2, .cache_mib = 0});
        REQUIRE(reader);
        REQUIRE(reader->index().pictures.size() == known.size());
        int wrong = 0;
        for (const std::size_t rank : shuffled_ranks(known.size(), 1)) {
            CHECK(reader->index().pictures[rank].pts == known[rank].pts);
            if (!is(reader->frame_at(known[rank].pts), known[rank])) ++wrong;
        }
        CHECK(wrong == 0);
    }
}

TEST_CASE("seek stress: single steps, jumps and times mixed always give the right picture") {
    for (const test::FilmKind& kind : test::film_kinds()) {
        CAPTURE(kind.name);
        const std::vector<Known> known = by_linear_decoding(kind.path);
        auto reader = ExactReader::open(kind.path, {.threads = 1, .cache_mib = 1});
        REQUIRE(reader);
        std::mt19937 random{7};
        std::size_t here = 0;
        REQUIRE(is(reader->next(), known[0]));
        int wrong = 0;
        for (int i = 0; i < 150; ++i) {
            const std::size_t jump = random() % known.size();
            switch (random() % 5) {
                case 0:
                    here = jump;
                    wrong += is(reader->frame_of_rank(here), known[here]) ? 0 : 1;
                    break;
                case 1:
                    here = jump;
                    wrong +=
                        is(reader->nearest(seconds_between(known[0].pts, known[here].pts, reader->info().time_base)),
                           known[here])
                            ? 0
                            : 1;
                    break;
                case 2:
                    for (int step = 0; step < 5 && here > 0; ++step)
                        wrong += is(reader->previous(), known[--here]) ? 0 : 1;
                    break;
                default:
                    if (here + 1 < known.size()) wrong += is(reader->next(), known[++here]) ? 0 : 1;
                    break;
            }
        }
        CHECK(wrong == 0);
    }
}

TEST_CASE("pictures wanted alone are those of linear decoding, whatever is left out between them") {
    for (const test::FilmKind& kind : test::film_kinds()) {
        CAPTURE(kind.name);
        const std::vector<Known> known = by_linear_decoding(kind.path);
        for (const std::size_t step : {2U, 3U, 7U}) {
            CAPTURE(step);
            for (const std::size_t first : {std::size_t{0}, known.size() / 3}) {
                std::vector<std::size_t> wanted;
                for (std::size_t rank = first; rank < known.size(); rank += step) wanted.push_back(rank);
                auto reader = ExactReader::open(kind.path, {.threads = 1, .cache_mib = 1});
                REQUIRE(reader);
                REQUIRE(reader->want_only(wanted));
                int wrong = 0;
                for (const std::size_t rank : wanted) wrong += is(reader->frame_of_rank(rank), known[rank]) ? 0 : 1;
                CHECK(wrong == 0);
                // A picture that was not announced is found all the same.
                CHECK(is(reader->frame_of_rank(first + 1), known[first + 1]));
            }
        }
    }
}

TEST_CASE("stepping from end to start and back gives every picture, and the cache keeps to its budget") {
    for (const char* name : {"h264 mp4 open gop", "hevc mpegts", "mpeg4 avi b-frames with sound", "av1 mkv 10 bit"}) {
        CAPTURE(name);
        const auto path = test::film_of_kind(name);
        const std::vector<Known> known = by_linear_decoding(path);
        auto reader = ExactReader::open(path, {.threads = 2, .cache_mib = 1});
        REQUIRE(reader);
        REQUIRE(is(reader->frame_of_rank(known.size() - 1), known.back()));
        const std::size_t one = reader->next().has_value() ? 0 : 120000;
        for (std::size_t rank = known.size() - 1; rank-- > 0;) {
            CHECK(is(reader->previous(), known[rank]));
            CHECK(reader->cached_bytes() <= (1U << 20U) + one);
        }
        CHECK(reader->previous().error().code == ErrorCode::not_found);
        for (std::size_t rank = 1; rank < known.size(); ++rank) CHECK(is(reader->next(), known[rank]));
        CHECK(reader->next().error().code == ErrorCode::not_found);
    }
}

TEST_CASE("before the index is ready the same pictures are found by time") {
    for (const test::FilmKind& kind : test::film_kinds()) {
        CAPTURE(kind.name);
        const std::vector<Known> known = by_linear_decoding(kind.path);
        int wrong = 0;
        std::mt19937 random{11};
        // A reader asks for its index at every request, so each request here gets a fresh reader: the first answer
        // comes mostly without an index, and must be right either way.
        for (int i = 0; i < 12; ++i) {
            auto reader = ExactReader::open(kind.path, {.threads = 1, .wait_for_index = false});
            REQUIRE(reader);
            const std::size_t rank = random() % known.size();
            const double seconds = seconds_between(known[0].pts, known[rank].pts, reader->info().time_base);
            wrong += is(reader->frame_at_seconds(seconds), known[rank]) ? 0 : 1;
            if (rank + 1 < known.size()) wrong += is(reader->next(), known[rank + 1]) ? 0 : 1;
            if (rank + 1 < known.size()) wrong += is(reader->previous(), known[rank]) ? 0 : 1;
            REQUIRE(reader->wait_for_index());
            wrong += is(reader->frame_of_rank(rank), known[rank]) ? 0 : 1;
        }
        CHECK(wrong == 0);
    }
}

TEST_CASE("times between pictures and beyond the ends") {
    auto reader = ExactReader::open(test::film_of_kind("h264 mov start not zero"));
    REQUIRE(reader);
    const auto& pictures = reader->index().pictures;
    const double step = seconds_between(pictures[0].pts, pictures[1].pts, reader->info().time_base);
    CHECK(reader->frame_at_seconds(1.4 * step)->pts == pictures[1].pts);
    CHECK(reader->frame_at_seconds(1.6 * step)->pts == pictures[1].pts);
    CHECK(reader->nearest(1.4 * step)->pts == pictures[1].pts);
    CHECK(reader->nearest(1.6 * step)->pts == pictures[2].pts);
    CHECK(reader->frame_at_seconds(-5)->pts == pictures.front().pts);
    CHECK(reader->frame_at_seconds(1e9)->pts == pictures.back().pts);
    CHECK(reader->frame_at(pictures[3].pts + 1).error().code == ErrorCode::not_found);
    CHECK(reader->frame_of_rank(pictures.size()).error().code == ErrorCode::not_found);
}

TEST_CASE("a kept index serves instead of a new one") {
    const auto path = test::film_of_kind("h264 mpegts open gop with sound");
    const FrameIndex kept = load_index(save_index(build_index(path).value())).value();
    const std::vector<Known> known = by_linear_decoding(path);
    auto reader = ExactReader::open(path, {}, kept);
    REQUIRE(reader);
    CHECK(is(reader->frame_of_rank(61), known[61]));
    CHECK(is(reader->frame_of_rank(20), known[20]));
}
