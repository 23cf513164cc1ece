#include "media/frame_index.hpp"

#include <doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <set>

#include "media/films.hpp"

using namespace quarterturn;
using namespace quarterturn::media;

namespace {

FrameIndex index_of(const std::set<std::int64_t>& times) {
    FrameIndex index{.time_base = {1, 1000}, .pictures = {}, .warnings = {}};
    for (const std::int64_t pts : times) {
        const auto order = static_cast<std::uint32_t>(index.pictures.size());
        index.pictures.push_back({pts, pts - 5, 100 * std::int64_t{order}, order, order % 3 == 0});
    }
    return index;
}

/// An index of arbitrary times, decoded in an arbitrary order.
rc::Gen<FrameIndex> any_index() {
    return rc::gen::map(
        rc::gen::pair(rc::gen::container<std::set<std::int64_t>>(rc::gen::inRange<std::int64_t>(-5000, 5000)),
                      rc::gen::arbitrary<unsigned>()),
        [](const std::pair<std::set<std::int64_t>, unsigned>& from) {
            FrameIndex index = index_of(from.first);
            const std::size_t count = index.pictures.size();
            for (std::size_t i = 0; i + 1 < count; i += 2 + from.second % 3)
                std::swap(index.pictures[i].order, index.pictures[i + 1].order);
            index.complete = from.second % 2 == 0;
            index.timed_packets = from.second % 5 != 0;
            if (from.second % 7 == 0) index.warnings = {"one", "", "drei ä"};
            return index;
        });
}

std::uint64_t apart(std::int64_t a, std::int64_t b) {
    return static_cast<std::uint64_t>(std::max(a, b) - std::min(a, b));
}

}  // namespace

TEST_CASE("the picture on screen is the last one not later than the time") {
    CHECK(rc::check("rank_at equals a plain search", [] {
        const FrameIndex index = *any_index();
        const auto pts = *rc::gen::inRange<std::int64_t>(-6000, 6000);
        std::optional<std::size_t> expected;
        for (std::size_t rank = 0; rank < index.pictures.size(); ++rank)
            if (rank == 0 || index.pictures[rank].pts <= pts) expected = rank;
        RC_ASSERT(index.rank_at(pts) == expected);
    }));
}

TEST_CASE("the nearest picture is nearest, the earlier of two equally near ones") {
    CHECK(rc::check("rank_nearest equals a plain search", [] {
        const FrameIndex index = *any_index();
        const auto pts = *rc::gen::inRange<std::int64_t>(-6000, 6000);
        std::optional<std::size_t> expected;
        for (std::size_t rank = 0; rank < index.pictures.size(); ++rank)
            if (!expected || apart(index.pictures[rank].pts, pts) < apart(index.pictures[*expected].pts, pts))
                expected = rank;
        RC_ASSERT(index.rank_nearest(pts) == expected);
    }));
}

TEST_CASE("only an exact timestamp has a rank") {
    CHECK(rc::check("rank_of inverts the list", [] {
        const FrameIndex index = *any_index();
        for (std::size_t rank = 0; rank < index.pictures.size(); ++rank) {
            RC_ASSERT(index.rank_of(index.pictures[rank].pts) == rank);
            const std::int64_t beside = index.pictures[rank].pts + 1;
            const bool taken = rank + 1 < index.pictures.size() && index.pictures[rank + 1].pts == beside;
            RC_ASSERT(index.rank_of(beside).has_value() == taken);
        }
    }));
    CHECK_FALSE(FrameIndex{}.rank_at(0));
    CHECK_FALSE(FrameIndex{}.rank_nearest(0));
    CHECK_FALSE(FrameIndex{}.rank_of(0));
}

TEST_CASE("a kept index comes back whole") {
    CHECK(rc::check("load after save", [] {
        const FrameIndex index = *any_index();
        const auto loaded = load_index(save_index(index));
        RC_ASSERT(loaded.has_value());
        RC_ASSERT(loaded->pictures == index.pictures);
        RC_ASSERT(loaded->time_base == index.time_base);
        RC_ASSERT(loaded->complete == index.complete);
        RC_ASSERT(loaded->timed_packets == index.timed_packets);
        RC_ASSERT(loaded->warnings == index.warnings);
    }));
}

TEST_CASE("a damaged index is refused, whichever bit flipped") {
    const std::string whole = save_index(index_of({0, 33, 67, 100, 133}));
    for (std::size_t bit = 0; bit < whole.size() * 8; ++bit) {
        std::string damaged = whole;
        damaged[bit / 8] = static_cast<char>(damaged[bit / 8] ^ (1 << (bit % 8)));
        CHECK_FALSE(load_index(damaged));
    }
    for (std::size_t size = 0; size < whole.size(); ++size) CHECK_FALSE(load_index(whole.substr(0, size)));
    std::string newer = whole;
    newer[7] = 2;
    CHECK(load_index(newer).error().code == ErrorCode::newer_version);
}

TEST_CASE("the length of a clip is that of its pictures, the last one shown as long as usual") {
    CHECK(index_of({100, 133, 167, 200}).duration_s() == doctest::Approx(0.133).epsilon(0.01));
    CHECK(FrameIndex{}.duration_s() == 0);
}

TEST_CASE("the index has exactly the pictures and times ffprobe decodes, for every kind") {
    for (const test::FilmKind& kind : test::film_kinds()) {
        CAPTURE(kind.name);
        const auto index = build_index(kind.path);
        REQUIRE(index);
        const auto printed = test::timestamps_by_ffprobe(kind.path);
        REQUIRE(index->pictures.size() == printed.size());
        for (std::size_t i = 0; i < printed.size(); ++i)
            if (printed[i]) CHECK(index->pictures[i].pts == *printed[i]);
        CHECK(index->complete);
        CHECK(index->warnings.empty());
    }
}

TEST_CASE("building an index can be stopped") {
    std::stop_source stop;
    stop.request_stop();
    CHECK(build_index(test::film_of_kind("h264 mp4"), stop.get_token()).error().code == ErrorCode::cancelled);
}
