#include <doctest/doctest.h>

#include "journal/cache.hpp"
#include "share/measure.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::test;

TEST_CASE("a landmark series can be kept under its key: a version with a slash did not reach the cache") {
    const TemporaryFolder folder;
    const journal::Cache cache{folder.path()};
    const std::string fingerprint = "sha256:" + std::string(64, '0');
    REQUIRE(cache.write(journal::CacheKind::landmarks, fingerprint, share::landmark_key("full"), "series"));
    CHECK(cache.read(journal::CacheKind::landmarks, fingerprint, share::landmark_key("full")) == "series");
}
