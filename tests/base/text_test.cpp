#include "base/text.hpp"

#include <doctest.h>

#include "base/fingerprint.hpp"

using namespace quarterturn;

TEST_CASE("UTF-8 is checked as RFC 3629 says") {
    CHECK(is_utf8("Haltung \xC3\xBC \xCE\xBB \xD0\xB6 \xE2\x82\xAC \xF0\x9F\x92\xAA"));
    CHECK_FALSE(is_utf8("\xC0\x80"));          // overlong
    CHECK_FALSE(is_utf8("\xED\xA0\x80"));      // surrogate
    CHECK_FALSE(is_utf8("\xF4\x90\x80\x80"));  // above U+10FFFF
    CHECK_FALSE(is_utf8("cut \xE2\x82"));
    CHECK(to_utf8("a\xFF"
                  "b") ==
          "a\xEF\xBF\xBD"
          "b");
    CHECK(code_points("\xC3\xBC\xE2\x82\xAC") == 2);
}

TEST_CASE("trimming") {
    CHECK(trimmed("  hold \n") == "hold");
    CHECK(trimmed(" \t ").empty());
}

TEST_CASE("a fingerprint is sha256: and 64 lower-case digits") {
    const std::string good = "sha256:" + std::string(64, 'a');
    CHECK(is_fingerprint(good));
    CHECK_FALSE(is_fingerprint("sha256:" + std::string(64, 'A')));
    CHECK_FALSE(is_fingerprint(good + "0"));
    CHECK_FALSE(is_fingerprint(""));
}
