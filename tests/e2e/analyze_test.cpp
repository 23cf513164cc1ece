/// The analysis document as another program reads it. Films lie renamed in an empty folder, so that no answer can come
/// from a file beside them.
#include <doctest.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>

#include "e2e/program.hpp"
#include "schema_check.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn::test;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

const fs::path samples = fs::path{QUARTERTURN_SOURCE_DIR} / "sample_clips";

json true_holds(const fs::path& truth) {
    json holds = json::array();
    std::ifstream file{truth};
    const json document = json::parse(file);
    for (const auto& segment : document["segments"]) {
        if (segment["kind"] == "hold") holds.push_back(segment);
    }
    return holds;
}

}  // namespace

TEST_CASE("a clip without a library gives a document that keeps to the schema, and its holds are the true ones") {
    const TemporaryFolder folder;
    fs::copy_file(samples / "this_season/2026-05-16_quarter_turns.mp4", folder.path() / "x.mp4");
    const Ran ran = run_quarterturn({"analyze", "x.mp4", "--method", "motion", "--rules", "womens_physique",
                                     "--height-cm", "166", "--signals", "--json", "-"},
                                    folder.path());
    REQUIRE(ran.exit == 0);
    CHECK(ran.err.empty());
    CHECK(schema_problems("analysis.schema.json", ran.out) == "");
    const json document = json::parse(ran.out);
    CHECK(document["clip"]["file"] == "x.mp4");
    CHECK(document["method"] == "motion");

    std::vector<json> found;
    for (const auto& segment : document["segments"]) {
        if (segment["kind"] == "hold") found.push_back(segment);
    }
    const json holds = true_holds(samples / "this_season/2026-05-16_quarter_turns.truth.json");
    REQUIRE(holds.size() == 5);
    for (const auto& hold : holds) {
        const double start = hold["start_s"];
        const double end = hold["end_s"];
        CAPTURE(start);
        const auto match = std::find_if(found.begin(), found.end(), [&](const json& segment) {
            return std::abs(segment["start_s"].get<double>() - start) <= 0.25 &&
                   std::abs(segment["end_s"].get<double>() - end) <= 0.25;
        });
        REQUIRE(match != found.end());
        CHECK(std::abs((*match)["duration_s"].get<double>() - (end - start)) <= 0.3);
        CHECK((*match)["pose"] == hold["pose"]);
        CHECK((*match)["pose_source"] == "order");
        CHECK((*match)["pose_confidence"].get<double>() <= 0.5);
        CHECK((*match)["facing_deg"].is_null());
        CHECK_FALSE((*match)["reason"].get<std::string>().empty());
    }
}

TEST_CASE("the same film gives the same document whatever its name and however often") {
    const TemporaryFolder folder;
    REQUIRE(!make_film(folder.path(), "a.mp4").empty());
    const Ran first = run_quarterturn({"analyze", "a.mp4", "--method", "motion", "--json", "-"}, folder.path());
    const Ran again =
        run_quarterturn({"analyze", "a.mp4", "--method", "motion", "--json", "doc.json", "--jobs", "1"}, folder.path());
    REQUIRE(first.exit == 0);
    REQUIRE(again.exit == 0);
    std::ifstream file{folder.path() / "doc.json"};
    CHECK(std::string{std::istreambuf_iterator<char>{file}, {}} == first.out);
}

TEST_CASE("a film that was cut off is measured as far as it goes, with a warning and exit 0") {
    const TemporaryFolder folder;
    REQUIRE(!make_film(folder.path(), "whole.mp4", "-movflags +faststart").empty());
    std::ifstream whole{folder.path() / "whole.mp4", std::ios::binary};
    const std::string bytes{std::istreambuf_iterator<char>{whole}, {}};
    std::ofstream{folder.path() / "cut.mp4", std::ios::binary} << bytes.substr(0, bytes.size() / 2);
    const Ran ran = run_quarterturn({"analyze", "cut.mp4", "--method", "motion", "--json", "-"}, folder.path());
    REQUIRE(ran.exit == 0);
    const json document = json::parse(ran.out);
    CHECK(document["clip"]["warnings"].size() >= 1);
    CHECK(document["clip"]["frames"].get<int>() < 60);
}

TEST_CASE("what is no film is refused in one sentence and nothing is written") {
    const TemporaryFolder folder;
    std::ofstream{folder.path() / "empty.mp4"};
    std::ofstream{folder.path() / "text.mp4"} << "hello";
    for (const char* name : {"empty.mp4", "text.mp4", "absent.mp4", "home"}) {
        CAPTURE(name);
        const Ran ran = run_quarterturn({"analyze", name, "--json", "out.json"}, folder.path());
        CHECK(ran.exit != 0);
        CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
        CHECK_FALSE(fs::exists(folder.path() / "out.json"));
    }
    CHECK(run_quarterturn({"analyze"}, folder.path()).exit == 2);
    CHECK(run_quarterturn({"analyze", "text.mp4", "--rules", "no_such_set"}, folder.path()).exit == 3);
}

TEST_CASE("without the landmark model everything else works, and what is missing is said once") {
    const TemporaryFolder folder;
    REQUIRE(!make_film(folder.path(), "a.mp4").empty());
    const Ran fallen_back = run_quarterturn({"--model-dir", "home", "analyze", "a.mp4", "--json", "-"}, folder.path());
    CHECK(fallen_back.exit == 0);
    CHECK(json::parse(fallen_back.out)["method"] == "motion");
    CHECK(fallen_back.err.find("third_party/setup.sh") != std::string::npos);
    CHECK(std::count(fallen_back.err.begin(), fallen_back.err.end(), '\n') == 1);
    const Ran asked =
        run_quarterturn({"--model-dir", "home", "analyze", "a.mp4", "--method", "landmarks"}, folder.path());
    CHECK(asked.exit == 8);
    CHECK(asked.out.empty());
}
