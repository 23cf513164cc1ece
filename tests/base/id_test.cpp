#include "base/id.hpp"

#include <doctest.h>

#include <set>

using namespace quarterturn;

TEST_CASE("an id carries its instant as in RFC 9562, appendix A.6") {
    // 2022-02-22T19:22:22Z = 1645557742000 ms; the example is 017F22E2-79B0-7CC3-98C4-DC0C0C07398F.
    const auto id =
        new_id_at(std::chrono::sys_time<std::chrono::milliseconds>{std::chrono::milliseconds{1645557742000}});
    CHECK(id.substr(0, 15) == "017f22e2-79b0-7");
    CHECK(std::string{"89ab"}.find(id[19]) != std::string::npos);
    CHECK(parse_id(id).value() == id);
}

TEST_CASE("ids differ") {
    std::set<std::string> seen;
    for (int i = 0; i < 1000; ++i) seen.insert(new_id());
    CHECK(seen.size() == 1000);
}

TEST_CASE("ids are read in either case, other text is refused") {
    CHECK(parse_id("2ED6657D-E927-568B-95E1-2665A8AEA6A2").value() == "2ed6657d-e927-568b-95e1-2665a8aea6a2");
    for (const char* bad : {"", "2ed6657de927568b95e12665a8aea6a2", "2ed6657d-e927-568b-95e1-2665a8aea6ag"}) {
        CAPTURE(bad);
        CHECK_FALSE(parse_id(bad));
    }
}
