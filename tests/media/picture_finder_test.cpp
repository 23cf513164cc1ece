#include "media/picture_finder.hpp"

#include <doctest.h>

#include <random>

#include "media/films.hpp"
#include "media/linear_reader.hpp"
#include "media/samples.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

namespace {

std::vector<Picture> all_pictures(const std::filesystem::path& path) {
    std::vector<Picture> pictures;
    auto reader = LinearReader::open(path, {1});
    REQUIRE(reader);
    for (;;) {
        auto picture = reader->next();
        REQUIRE(picture);
        if (!*picture) return pictures;
        pictures.push_back(**std::move(picture));
    }
}

bool same(const std::optional<Picture>& picture, const Picture& expected) {
    return picture && picture->pts == expected.pts && test::samples_of(*picture) == test::samples_of(expected);
}

}  // namespace

TEST_CASE("without any index the picture on screen at a time, the one after and the one before are exact") {
    for (const test::FilmKind& kind : test::film_kinds()) {
        if (kind.path.extension() == ".avi") continue;  // without timestamps in the packets readers wait for the index
        CAPTURE(kind.name);
        const std::vector<Picture> pictures = all_pictures(kind.path);
        auto decoder = SeekingDecoder::open(kind.path, 2);
        REQUIRE(decoder);
        PictureFinder finder{std::move(decoder).value(), 0};
        std::mt19937 random{3};
        int wrong = 0;
        for (int i = 0; i < 40; ++i) {
            const std::size_t rank = random() % pictures.size();
            const std::int64_t pts = pictures[rank].pts;
            wrong += same(finder.at_or_before(pts), pictures[rank]) ? 0 : 1;
            if (rank > 0) wrong += same(finder.at_or_before(pts - 1), pictures[rank - 1]) ? 0 : 1;
            if (rank + 1 < pictures.size()) wrong += same(finder.after(pts), pictures[rank + 1]) ? 0 : 1;
        }
        wrong += same(finder.at_or_before(pictures.front().pts - 100000), pictures.front()) ? 0 : 1;
        wrong += same(finder.at_or_before(pictures.back().pts + 100000), pictures.back()) ? 0 : 1;
        CHECK(wrong == 0);
        CHECK_FALSE(finder.after(pictures.back().pts));
    }
}
