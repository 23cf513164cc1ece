#include "journal/cache.hpp"

#include <doctest.h>
#include <sys/stat.h>

#include <algorithm>

#include "base/file.hpp"
#include "library_fixture.hpp"

using namespace quarterturn;
using namespace quarterturn::journal;
using namespace quarterturn::test;

TEST_CASE("an entry is kept by fingerprint and key, and is not there when the cache was deleted") {
    const TemporaryFolder folder;
    const Cache cache{folder.path() / "cache"};
    CHECK_FALSE(cache.read(CacheKind::analysis, fingerprint('a'), "figure.json").has_value());
    const std::string bytes{"\0\xFF bytes", 8};
    REQUIRE(cache.write(CacheKind::analysis, fingerprint('a'), "figure.json", bytes));
    CHECK(cache.read(CacheKind::analysis, fingerprint('a'), "figure.json") == bytes);
    CHECK_FALSE(cache.read(CacheKind::analysis, fingerprint('b'), "figure.json").has_value());
    CHECK_FALSE(cache.read(CacheKind::landmarks, fingerprint('a'), "figure.json").has_value());
    std::filesystem::remove_all(folder.path() / "cache");
    CHECK_FALSE(cache.read(CacheKind::analysis, fingerprint('a'), "figure.json").has_value());
}

TEST_CASE("no key leads out of the cache") {
    const TemporaryFolder folder;
    const Cache cache{folder.path() / "cache"};
    for (const char* key : {"", "..", "../x", "a/b", ".hidden", "a b", "a\nb"}) {
        CAPTURE(key);
        CHECK(cache.write(CacheKind::analysis, fingerprint('a'), key, "x").error().code == ErrorCode::bad_input);
        CHECK(cache.file(CacheKind::analysis, fingerprint('a'), key).empty());
    }
    CHECK_FALSE(cache.write(CacheKind::analysis, "sha256:../../x", "key", "x"));
}

TEST_CASE("a fingerprint is remembered until the file changes or moves") {
    const TemporaryFolder folder;
    const Cache cache{folder.path() / "cache"};
    const auto film = folder.path() / "film.mp4";
    REQUIRE(write_file(film, "one"));
    CHECK_FALSE(cache.known_fingerprint(film).has_value());
    REQUIRE(cache.remember_fingerprint(film, fingerprint('a')));
    CHECK(cache.known_fingerprint(film) == fingerprint('a'));
    REQUIRE(write_file(film, "two"));  // same size, another file
    CHECK_FALSE(cache.known_fingerprint(film).has_value());
    REQUIRE(cache.remember_fingerprint(film, fingerprint('b')));
    std::filesystem::rename(film, folder.path() / "other.mp4");
    CHECK_FALSE(cache.known_fingerprint(film).has_value());
    CHECK_FALSE(cache.known_fingerprint(folder.path() / "other.mp4").has_value());
}

TEST_CASE("a broken shortcut is simply not there") {
    const TemporaryFolder folder;
    const Cache cache{folder.path() / "cache"};
    const auto film = folder.path() / "film.mp4";
    REQUIRE(write_file(film, "one"));
    REQUIRE(cache.remember_fingerprint(film, fingerprint('a')));
    for (const auto& entry : std::filesystem::directory_iterator{folder.path() / "cache" / "fingerprints"})
        REQUIRE(write_file(entry.path(), "{\"fingerprint\": [1]}"));
    CHECK_FALSE(cache.known_fingerprint(film).has_value());
}

TEST_CASE("what is kept for a film is listed by its keys, for that film and kind alone") {
    const TemporaryFolder folder;
    const Cache cache{folder.path() / "cache"};
    CHECK(cache.keys(CacheKind::analysis, fingerprint('a')).empty());
    REQUIRE(cache.write(CacheKind::analysis, fingerprint('a'), "one", "x"));
    REQUIRE(cache.write(CacheKind::analysis, fingerprint('a'), "two", "x"));
    REQUIRE(cache.write(CacheKind::analysis, fingerprint('b'), "three", "x"));
    REQUIRE(cache.write(CacheKind::landmarks, fingerprint('a'), "four", "x"));
    auto keys = cache.keys(CacheKind::analysis, fingerprint('a'));
    std::sort(keys.begin(), keys.end());
    CHECK(keys == std::vector<std::string>{"one", "two"});
    CHECK(cache.keys(CacheKind::analysis, "not a fingerprint").empty());
}
