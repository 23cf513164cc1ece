#include "rules/rule_set_json.hpp"

#include <doctest.h>

#include <nlohmann/json.hpp>

#include "rules/rule_sets.hpp"
#include "schema_check.hpp"

using namespace quarterturn;
using namespace quarterturn::rules;
using nlohmann::json;

namespace {

json figure() {
    return json::parse(bundled_rule_set_text("womens_figure"));
}

/// The sentence reading answers with.
std::string complaint(const json& document) {
    const auto read = read_rule_set(document.dump());
    return read ? "fine" : read.error().detail;
}

}  // namespace

TEST_CASE("the data that comes along keeps to its schema") {
    for (const std::string& id : bundled_rule_sets()) {
        CAPTURE(id);
        CHECK(test::schema_problems("rule_set.schema.json", std::string{bundled_rule_set_text(id)}) == "");
    }
}

TEST_CASE("a rule set written and read again is the same and keeps to the schema") {
    for (const std::string& id : bundled_rule_sets()) {
        CAPTURE(id);
        const RuleSet rule_set = bundled_rule_set(id).value();
        const std::string text = write_rule_set(rule_set);
        CHECK(read_rule_set(text).value() == rule_set);
        CHECK(test::schema_problems("rule_set.schema.json", text) == "");
    }
}

TEST_CASE("unknown fields survive at every level") {
    json document = figure();
    document["colour"] = "blue";
    document["poses"][0]["music"] = json{{"bpm", 90}};
    document["poses"][0]["items"][0]["seen_from"] = "row 3";
    document["poses"][0]["items"][0]["limit"]["measured_with"] = "eye";
    document["round_limits"][0]["mood"] = nullptr;
    document["settings"][0]["note"] = json::array({1, 2});
    document["settings"][0]["choices"][0]["since"] = 2019;
    const std::string text = write_rule_set(read_rule_set(document.dump()).value());
    const json again = json::parse(text);
    CHECK(again["colour"] == "blue");
    CHECK(again["poses"][0]["music"]["bpm"] == 90);
    CHECK(again["poses"][0]["items"][0]["seen_from"] == "row 3");
    CHECK(again["round_limits"][0].contains("mood"));
    CHECK(again["settings"][0]["note"] == json::array({1, 2}));
    CHECK(again["settings"][0]["choices"][0]["since"] == 2019);
    CHECK(again["poses"][0]["items"][0]["limit"]["measured_with"] == "eye");
}

TEST_CASE("an error names the place") {
    json document = figure();
    document["poses"][2]["items"][0]["weight"] = 0;
    CHECK(complaint(document) == "poses[2].items[0].weight: must be a number above 0");

    document = figure();
    document["poses"][1]["items"][0]["weight"] = "heavy";
    CHECK(complaint(document) == "poses[1].items[0].weight: must be a number");

    document = figure();
    document["poses"][0]["items"][0]["limit"]["comparison"] = "about";
    CHECK(complaint(document) == "poses[0].items[0].limit.comparison: must be one of at_most, at_least");

    document = figure();
    document["call_order"][1] = "handstand";
    CHECK(complaint(document) == "call_order[1]: is no pose of this rule set");

    document = figure();
    document["poses"][0]["pose"] = "Handstand!";
    CHECK(complaint(document) == "poses[0].pose: must be lower-case letters, digits and _, starting with a letter");

    document = figure();
    document["settings"][0]["default"] = "miles";
    CHECK(complaint(document) == "settings[0].default: is no choice of this setting");

    document = figure();
    document["round_limits"][0].erase("seconds");
    CHECK(complaint(document) == "round_limits[0].seconds: is missing; it must be a number above 0");

    document = figure();
    document["poses"] = "all of them";
    CHECK(complaint(document) == "poses: must be a list in brackets");
}

TEST_CASE("a pose the program does not know needs a title of its own") {
    json document = figure();
    document["poses"][0]["pose"] = "arms_overhead";
    document["poses"][0].erase("title");
    document["call_order"] = json::array({"arms_overhead"});
    CHECK(complaint(document) == "poses[0].title: is missing; a pose the program does not know needs one");
    document["poses"][0]["title"] = "Arms overhead";
    CHECK(complaint(document) == "fine");
}

TEST_CASE("what comes twice is refused") {
    json document = figure();
    document["poses"][1] = document["poses"][0];
    CHECK(complaint(document) == "poses[1].pose: comes twice; call_order may repeat it");
    document = figure();
    document["poses"][0]["items"][1]["id"] = document["poses"][0]["items"][0]["id"];
    CHECK(complaint(document) == "poses[0].items[1].id: comes twice in this pose");
}

TEST_CASE("an item the program cannot measure must not claim to be measured, and one it can needs a limit") {
    json document = figure();
    json& item = document["poses"][0]["items"][0];
    item["id"] = "glow";
    CHECK(complaint(document) == "poses[0].items[0].measured: the program cannot measure this item; leave it false");
    item["id"] = "shoulders_level";
    item.erase("limit");
    CHECK(complaint(document) == "poses[0].items[0].limit: is missing for a measured item");
}

TEST_CASE("without a call order the poses are called as listed") {
    json document = figure();
    document.erase("call_order");
    const RuleSet rule_set = read_rule_set(document.dump()).value();
    CHECK(rule_set.call_order.size() == rule_set.poses.size());
    CHECK(rule_set.call_order.front() == "quarter_front");
}

TEST_CASE("a newer version is refused, another format too") {
    json document = figure();
    document["version"] = 2;
    CHECK(read_rule_set(document.dump()).error().code == ErrorCode::newer_version);
    document["version"] = 0;
    CHECK(complaint(document) == "version: must be at least 1");
    document["version"] = 1;
    document["format"] = "quarterturn.note";
    CHECK(complaint(document) == "format: must be \"quarterturn.rule_set\"");
}
