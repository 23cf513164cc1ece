#include "media/linear_reader.hpp"

#include <doctest.h>

#include "media/films.hpp"
#include "media/samples.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

TEST_CASE("every picture of every kind is the one the ffmpeg program decodes, with the timestamp ffprobe prints") {
    for (const test::FilmKind& kind : test::film_kinds()) {
        CAPTURE(kind.name);
        auto reader = LinearReader::open(kind.path, {2});
        REQUIRE(reader);
        std::vector<std::string> pictures;
        std::vector<std::int64_t> timestamps;
        for (;;) {
            const auto picture = reader->next();
            REQUIRE(picture);
            if (!*picture) break;
            CHECK_FALSE((*picture)->damaged);
            pictures.push_back(test::samples_of(**picture));
            timestamps.push_back((*picture)->pts);
        }
        REQUIRE(pictures.size() > 30);
        const auto expected = test::pictures_by_ffmpeg(kind.path, pictures[0].size());
        CHECK(pictures.size() == expected.size());
        CHECK((pictures == expected));
        const auto printed = test::timestamps_by_ffprobe(kind.path);
        REQUIRE(printed.size() == timestamps.size());
        for (std::size_t i = 0; i < printed.size(); ++i) {
            // AVI leaves the last picture without a time; ours still comes after the others.
            if (printed[i]) CHECK(timestamps[i] == *printed[i]);
            if (i > 0) CHECK(timestamps[i] > timestamps[i - 1]);
        }
        for (const auto& warning : reader->warnings()) MESSAGE(kind.name << ": " << warning);
        CHECK(reader->warnings().empty());
    }
}
