/// The first command of the read-me, as far as the program goes: the demo seasons measured and reported.
#include <doctest.h>
#include <sys/stat.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "e2e/program.hpp"
#include "schema_check.hpp"
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

    // The latest session beside the earlier season's: the program finds it by itself.
    const Ran compared = run_quarterturn({"--library", "lib", "compare", "2026-05-16", "--json", "-"}, folder.path());
    CAPTURE(compared.err);
    REQUIRE(compared.exit == 0);
    CHECK(compared.err.find("10 May 2025: same division, 3 weeks out") != std::string::npos);
    const json comparison = json::parse(compared.out);
    CHECK(schema_problems("comparison.schema.json", compared.out) == "");
    CHECK(comparison["pairs"].size() == 10);
    for (const auto& pair : comparison["pairs"]) CHECK(pair["alignment"]["residual_body_pct"] < 2);
    const Ran outlined = run_quarterturn({"--library", "lib", "compare", "2026-05-16", "2025-05-10", "--pose",
                                          "side_chest", "--still", "pair.png", "--look", "outline"},
                                         folder.path());
    CAPTURE(outlined.err);
    CHECK(outlined.exit == 0);
    CHECK(std::filesystem::exists(folder.path() / "pair.png"));
    std::ifstream report(folder.path() / "lib" / "reports" / "season-2026-05-30.html");
    const std::string text{std::istreambuf_iterator<char>(report), {}};
    CHECK(text.find("Beside the earlier season") != std::string::npos);
}
