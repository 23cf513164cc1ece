#include "share/base64.hpp"

#include <doctest.h>

using quarterturn::share::base64;

TEST_CASE("RFC 4648, section 10: the test vectors of base64") {
    CHECK(base64("").empty());
    CHECK(base64("f") == "Zg==");
    CHECK(base64("fo") == "Zm8=");
    CHECK(base64("foo") == "Zm9v");
    CHECK(base64("foob") == "Zm9vYg==");
    CHECK(base64("fooba") == "Zm9vYmE=");
    CHECK(base64("foobar") == "Zm9vYmFy");
}

TEST_CASE("bytes above 127 keep their value") {
    CHECK(base64("\xFF\xD8\xFF") == "/9j/");  // from memory: how every JPEG begins in base64
}
