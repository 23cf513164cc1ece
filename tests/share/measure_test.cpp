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
    const std::string key = share::landmark_key({}, {});
    REQUIRE(cache.write(journal::CacheKind::landmarks, fingerprint, key, "series"));
    CHECK(cache.read(journal::CacheKind::landmarks, fingerprint, key) == "series");
}

TEST_CASE("landmarks of another size of the model are kept apart, and a library's choice is heeded") {
    share::MeasureSettings lite;
    lite.model_size = body::ModelSize::lite;
    CHECK(share::landmark_key({}, lite) != share::landmark_key({}, {}));
    journal::Library library;
    library.athlete.model_size = "heavy";
    CHECK(share::with_choices_of(library, {}).model_size == body::ModelSize::heavy);
    CHECK(share::with_choices_of(library, lite).model_size == body::ModelSize::lite);
}
