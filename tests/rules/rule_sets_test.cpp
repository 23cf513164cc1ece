#include "rules/rule_sets.hpp"

#include <doctest.h>

#include "base/file.hpp"
#include "rules/rule_set_json.hpp"
#include "temporary_folder.hpp"

using namespace quarterturn;
using namespace quarterturn::rules;

TEST_CASE("every rule set that comes along is read without a complaint") {
    for (const std::string& id : bundled_rule_sets()) {
        CAPTURE(id);
        const auto rule_set = bundled_rule_set(id);
        const std::string problem = rule_set ? std::string{} : rule_set.error().detail;
        CHECK(problem == "");
        REQUIRE(rule_set);
        CHECK(rule_set->id == id);
        CHECK(rule_set->called().size() >= 2);
        CHECK(rule_set->find_pose("line_up") != nullptr);
    }
}

TEST_CASE("an unknown rule set is answered with those there are") {
    const auto rule_set = bundled_rule_set("womens_curling");
    REQUIRE_FALSE(rule_set);
    CHECK(rule_set.error().code == ErrorCode::not_found);
    CHECK(rule_set.error().detail.find("womens_figure") != std::string::npos);
}

TEST_CASE("every choice of every setting can be made and the default choice changes nothing") {
    for (const std::string& id : bundled_rule_sets()) {
        const RuleSet rule_set = bundled_rule_set(id).value();
        for (const Setting& setting : rule_set.settings) {
            CAPTURE(id);
            CAPTURE(setting.id);
            CHECK(with_choice(rule_set, setting.id, setting.chosen).value() == rule_set);
            for (const Choice& choice : setting.choices) {
                const auto changed = with_choice(rule_set, setting.id, choice.id);
                REQUIRE(changed);
                CHECK(changed->find_setting(setting.id)->chosen == choice.id);
                CHECK(with_choice(*changed, setting.id, setting.chosen).value() == rule_set);
            }
        }
    }
}

TEST_CASE("a choice that is not there is answered with those there are") {
    const RuleSet figure = bundled_rule_set("womens_figure").value();
    CHECK(with_choice(figure, "heels", "miles").error().detail.find("together") != std::string::npos);
    CHECK(with_choice(figure, "hats", "off").error().detail.find("heels") != std::string::npos);
}

TEST_CASE("several choices are made at once") {
    const auto changed = with_choices(bundled_rule_set("mens_bodybuilding").value(),
                                      {{"called_poses", "nine"}, {"routine_length", "ninety"}});
    REQUIRE(changed);
    CHECK(changed->find_round_limit("routine")->seconds == 90);
    CHECK(changed->call_order.back() == "most_muscular");
    CHECK(changed->called().size() == 4 + 8);  // most muscular is called twice but is one pose
}

TEST_CASE("a person's own rule set stands before the one of the same name that comes along") {
    const test::TemporaryFolder folder;
    RuleSet own = bundled_rule_set("womens_figure").value();
    own.title = "Figure at home";
    REQUIRE(write_file(folder.path() / "womens_figure.json", write_rule_set(own)));
    CHECK(load_rule_set("womens_figure", folder.path())->title == "Figure at home");
    CHECK(load_rule_set("womens_figure")->title == "Women's figure");
    CHECK(load_rule_set((folder.path() / "womens_figure.json").string())->title == "Figure at home");
    CHECK(load_rule_set((folder.path() / "absent.json").string()).error().code == ErrorCode::not_found);
}

TEST_CASE("an error in a person's file names the file and the place") {
    const test::TemporaryFolder folder;
    const auto path = folder.path() / "mine.json";
    REQUIRE(write_file(path, R"({"format":"quarterturn.rule_set","version":1,"id":"mine","title":""})"));
    const std::string detail = load_rule_set(path.string()).error().detail;
    CHECK(detail.find("mine.json: title: must not be empty") != std::string::npos);
}
