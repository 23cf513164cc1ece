#include "media/fingerprint_of.hpp"

#include <doctest.h>

#include "base/file.hpp"
#include "base/fingerprint.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::media;
using test::TemporaryFolder;

TEST_CASE("a fingerprint is the file's SHA-256") {
    const TemporaryFolder folder;
    // FIPS 180-2, appendix B.1 and B.3: one-block message "abc"; a million times "a".
    REQUIRE(write_file(folder.path() / "abc", "abc"));
    CHECK(fingerprint_of(folder.path() / "abc").value() ==
          "sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    REQUIRE(write_file(folder.path() / "million", std::string(1000000, 'a')));
    CHECK(fingerprint_of(folder.path() / "million").value() ==
          "sha256:cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
    CHECK(is_fingerprint(fingerprint_of(folder.path() / "abc").value()));
}

TEST_CASE("what has no fingerprint says why") {
    const TemporaryFolder folder;
    CHECK(fingerprint_of(folder.path() / "absent").error().code == ErrorCode::not_found);
    CHECK(fingerprint_of(folder.path()).error().code == ErrorCode::bad_input);
    REQUIRE(write_file(folder.path() / "abc", "abc"));
    std::stop_source stop;
    stop.request_stop();
    CHECK(fingerprint_of(folder.path() / "abc", stop.get_token()).error().code == ErrorCode::cancelled);
}
