/// The first command of the read-me, as far as the program goes: the demo seasons measured and reported.
#include <doctest.h>
#include <sys/stat.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "e2e/program.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn::test;
using nlohmann::json;

TEST_CASE("the demo ends with a table and reports, and a second run finds everything done") {
    const TemporaryFolder folder;
    const Ran first = run_quarterturn({"demo", "lib"}, folder.path());
    CAPTURE(first.err);
    REQUIRE(first.exit == 0);
    CHECK(first.out.find("longest hold, seconds") != std::string::npos);
    CHECK(first.out.find("Report: ") != std::string::npos);
    const auto page = folder.path() / "lib" / "reports" / "session-2026-05-16.html";
    struct stat facts {};
    REQUIRE(::stat(page.c_str(), &facts) == 0);
    CHECK((facts.st_mode & 0777U) == 0600U);

    const json notes = json::parse(run_quarterturn({"--library", "lib", "note", "list", "--json"}, folder.path()).out);
    CHECK(notes.size() >= 15);
    for (const auto& note : notes) CHECK(note["moment"]["start_s"].is_number());
    const json sessions =
        json::parse(run_quarterturn({"--library", "lib", "session", "list", "--json"}, folder.path()).out);
    CHECK(sessions.size() == 7);

    const Ran again = run_quarterturn({"demo", "lib"}, folder.path());
    CHECK(again.exit == 0);
    CHECK(again.out == first.out);
    CHECK(run_quarterturn({"--library", "lib", "check"}, folder.path()).exit == 0);
}
