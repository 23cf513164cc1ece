#include "compare/comparison_json.hpp"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "made_takes.hpp"
#include "rules/rule_sets.hpp"
#include "schema_check.hpp"

using namespace quarterturn;
using namespace quarterturn::compare;
using namespace quarterturn::test;
using nlohmann::json;

namespace {

Comparison made_comparison(bool silhouettes = true) {
    const MadeTake now = made_take(shipped_script("this_season/2026-05-16_mandatory_poses"));
    const MadeTake before = made_take(shipped_script("earlier_season/2025-05-10_mandatory_poses"), 9);
    ComparisonSettings settings;
    settings.silhouettes = silhouettes;
    return compare_takes({now.take}, {before.take}, settings);
}

bool has_measure(const json& pair, const std::string& id) {
    for (const json& d : pair["differences"])
        if (d["measure"] == id) return true;
    return false;
}

}  // namespace

TEST_CASE("the document keeps to its schema and says what the contract says") {
    const std::string text = write_comparison(made_comparison());
    CHECK(schema_problems("comparison.schema.json", text) == "");
    const json document = json::parse(text);
    CHECK(document["format"] == "quarterturn.comparison");
    REQUIRE(document["pairs"].size() == 5);
    const json& pair = document["pairs"][0];
    CHECK(pair["pose"] == "front_double_biceps");
    CHECK(pair["alignment"]["scale"].get<double>() > 1);  // she stood further off then
    const json& hold = pair["differences"][0];
    CHECK(hold["measure"] == "hold_s");
    CHECK(hold["difference"].get<double>() ==
          doctest::Approx(hold["now"].get<double>() - hold["before"].get<double>()).epsilon(0.01));
    CHECK(hold["error_source"] == "method");
    CHECK(hold["beyond_error"] == true);
    for (const char* id : {"stillness", "sway_rms_cm", "twist_rms_deg", "score_pct", "shoulder_width_pct",
                           "waist_width_pct", "hip_width_pct", "left_elbow_deg"})
        CHECK(has_measure(pair, id));
}

TEST_CASE("what cannot be compared is null with a reason") {
    const json document = json::parse(write_comparison(made_comparison()));
    for (const json& d : document["pairs"][0]["differences"]) {
        if (!d["beyond_error"].is_null()) continue;
        CAPTURE(d.dump());
        CHECK(d.contains("reason"));
    }
}

TEST_CASE("numbers about the outline are not there when they are hidden") {
    const json document = json::parse(write_comparison(made_comparison(false)));
    for (const json& pair : document["pairs"])
        for (const char* id : {"shoulder_width_pct", "waist_width_pct", "hip_width_pct"})
            CHECK_FALSE(has_measure(pair, id));
}

TEST_CASE("the same comparison gives the same text") {
    CHECK(write_comparison(made_comparison()) == write_comparison(made_comparison()));
}
