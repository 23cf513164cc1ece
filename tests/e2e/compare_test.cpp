/// Two films beside each other from the command line. By motion alone, which needs no model; what landmarks add is
/// tested in tests/compare and in the demo.
#include <doctest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "e2e/program.hpp"
#include "media/probe.hpp"
#include "schema_check.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn::test;
using nlohmann::json;

namespace {

const std::filesystem::path clips = std::filesystem::path(QUARTERTURN_SOURCE_DIR) / "sample_clips";
const std::string now = (clips / "this_season" / "2026-05-16_quarter_turns.mp4").string();
const std::string before = (clips / "earlier_season" / "2025-05-10_quarter_turns.mp4").string();

std::string read(const std::filesystem::path& path) {
    std::ifstream file(path);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::size_t files_in(const std::filesystem::path& folder) {
    std::size_t files = 0;
    for (const auto& entry : std::filesystem::directory_iterator{folder}) files += entry.is_regular_file() ? 1U : 0U;
    return files;
}

}  // namespace

TEST_CASE("two films give a document, a still and a film") {
    const TemporaryFolder folder;
    const Ran ran =
        run_quarterturn({"compare", now, before, "--method", "motion", "--rules", "womens_physique", "--pose",
                         "quarter_back", "--json", "both.json", "--still", "both.png", "--film", "both.mp4"},
                        folder.path());
    CAPTURE(ran.err);
    REQUIRE(ran.exit == 0);
    const std::string text = read(folder.path() / "both.json");
    CHECK(schema_problems("comparison.schema.json", text) == "");
    const json document = json::parse(text);
    REQUIRE(document["pairs"].size() == 1);
    const json& pair = document["pairs"][0];
    CHECK(pair["pose"] == "quarter_back");
    CHECK(pair["alignment"].is_null());  // motion alone sees no joints
    CHECK(pair["differences"][0]["measure"] == "hold_s");
    CHECK(pair["differences"][0]["difference"].get<double>() == doctest::Approx(1.9).epsilon(0.15));
    CHECK(std::filesystem::file_size(folder.path() / "both.png") > 10000);
    const auto film = quarterturn::media::probe(folder.path() / "both.mp4");
    REQUIRE(film);
    CHECK(film->codec == "h264");
    CHECK(film->width == 864);
    CHECK(film->duration_s == doctest::Approx(7).epsilon(0.1));  // the hold and a second to either side
    CHECK(files_in(folder.path()) == 3);
}

TEST_CASE("what cannot be compared is said in one sentence and leaves no file") {
    const TemporaryFolder folder;
    const auto fails = [&](std::vector<std::string> arguments, int exit, const char* words) {
        arguments.insert(arguments.begin(), "compare");
        const Ran ran = run_quarterturn(arguments, folder.path());
        CAPTURE(ran.err);
        CHECK(ran.exit == exit);
        CHECK(ran.err.find(words) != std::string::npos);
        CHECK(files_in(folder.path()) == 0);
    };
    fails({now, now, "--method", "motion", "--rules", "womens_physique"}, 4, "Both sides are the same film");
    fails({now, "nowhere.mp4"}, 3, "nowhere.mp4");
    fails({now, before, "--method", "motion"}, 3, "No pose is held in both");
    fails({now, before, "--method", "motion", "--rules", "womens_physique", "--pose", "vacuum"}, 3, "not held in both");
    fails({now, before, "--method", "motion", "--rules", "womens_physique", "--film", "nowhere/both.mp4"}, 3,
          "nowhere");
}
