// The rule sets that come along against published rule texts. Each check names its source; facts without one are left
// to the tests of the room.
#include <doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "rules/rule_sets.hpp"

using namespace quarterturn::rules;

namespace {

using Order = std::vector<std::string>;

RuleSet bundled(const char* id) {
    return bundled_rule_set(id).value();
}

Order order_with(const char* id, const char* choice) {
    return with_choice(bundled(id), "called_poses", choice)->call_order;
}

/// Right turns, as the judges see them: standing in front of them and turning right shows the left side first. IFBB and
/// NPC rule texts, OCB pages ("front, left, back, right").
const Order turns{"quarter_front", "quarter_left_side", "quarter_back", "quarter_right_side", "quarter_front"};

Order turns_then(const Order& poses) {
    Order order = turns;
    order.insert(order.end(), poses.begin(), poses.end());
    return order;
}

const Limit& limit(const RuleSet& rule_set, const char* pose, const char* item) {
    return *rule_set.find_pose(pose)->find_item(item)->limit;
}

}  // namespace

TEST_CASE("quarter turns go to the right: front, left side, back, right side, front") {
    // IFBB bodyfitness, wellness and men's physique rules: four quarter turns and no other pose.
    for (const char* id : {"womens_figure", "womens_wellness", "mens_physique"}) {
        CAPTURE(id);
        CHECK(bundled(id).call_order == turns);
    }
}

TEST_CASE("bikini: front and back only by default; four quarter turns and two fronts as settings") {
    CHECK(bundled("womens_bikini").call_order == Order{"quarter_front", "quarter_back", "quarter_front"});  // NPC
    CHECK(order_with("womens_bikini", "four_quarter_turns") == turns);                                      // IFBB
    CHECK(order_with("womens_bikini", "front_twice_and_back") ==
          Order{"quarter_front", "quarter_front", "quarter_back"});  // OCB 2019
}

TEST_CASE("men's bodybuilding: the mandatory poses in the order of the call") {
    const Order seven{"front_double_biceps", "front_lat_spread", "side_chest",           "back_double_biceps",
                      "back_lat_spread",     "side_triceps",     "abdominals_and_thighs"};
    CHECK(bundled("mens_bodybuilding").call_order == turns_then(seven));  // IFBB
    Order eight = seven;
    eight.push_back("most_muscular");
    CHECK(order_with("mens_bodybuilding", "eight") == turns_then(eight));  // NPC family
    CHECK(order_with("mens_bodybuilding", "nine") ==                       // INBF and WNBF
          turns_then({"front_double_biceps", "side_chest", "side_triceps", "front_lat_spread", "back_double_biceps",
                      "back_lat_spread", "abdominals_and_thighs", "most_muscular", "most_muscular"}));
    Order turns_last = eight;  // ANB: quarter turns after the compulsories
    turns_last.insert(turns_last.end(), turns.begin(), turns.end());
    CHECK(order_with("mens_bodybuilding", "turns_last") == turns_last);
}

TEST_CASE("women's bodybuilding: the men's seven without the lat spreads") {
    // IFBB, through a national rule text of 2019.
    CHECK(bundled("womens_bodybuilding").call_order ==
          turns_then(
              {"front_double_biceps", "side_chest", "back_double_biceps", "side_triceps", "abdominals_and_thighs"}));
}

TEST_CASE("women's physique: four or five mandatory poses, hands open or closed") {
    CHECK(bundled("womens_physique").call_order ==  // NFF: five, with the side triceps
          turns_then(
              {"front_double_biceps", "side_chest", "side_triceps", "back_double_biceps", "abdominals_and_thighs"}));
    CHECK(order_with("womens_physique", "four") ==  // NPC text: four
          turns_then({"front_double_biceps", "side_chest", "back_double_biceps", "abdominals_and_thighs"}));
    const RuleSet closed = with_choice(bundled("womens_physique"), "hands", "closed").value();  // NABBA NZ
    CHECK(closed.find_pose("front_double_biceps")->find_item("hand_shape")->text == "Fists closed");
}

TEST_CASE("classic physique: five poses, the last a favourite that is not most muscular") {
    // NPC family of federations.
    CHECK(bundled("mens_classic_physique").call_order ==
          turns_then({"front_double_biceps", "side_chest", "back_double_biceps", "abdominals_and_thighs",
                      "favourite_classic"}));
    CHECK(bundled("mens_classic_physique").find_pose("most_muscular") == nullptr);
    const Order with_vacuum = order_with("mens_classic_physique", "with_vacuum");  // IFBB classic, from memory
    CHECK(std::count(with_vacuum.begin(), with_vacuum.end(), "vacuum") == 1);
}

TEST_CASE("the sides of side chest and side triceps are the athlete's choice") {
    // Common practice, no source: the side is called only where a federation asks for both.
    for (const char* pose : {"side_chest", "side_triceps"})
        CHECK(bundled("mens_bodybuilding").find_pose(pose)->side == Side::either);
}

TEST_CASE("twist in the side view is limited to 15 degrees in bodybuilding") {
    // OCB guideline copy, fitnessprodirect.com, article 10.
    for (const char* id : {"mens_bodybuilding", "womens_bodybuilding"}) {
        for (const char* pose : {"quarter_left_side", "quarter_right_side"}) {
            CAPTURE(id);
            const RuleSet rule_set = bundled(id);
            CHECK(limit(rule_set, pose, "torso_twist_side") == Limit{Comparison::at_most, 15, "deg"});
            CHECK(rule_set.find_pose(pose)->find_item("torso_twist_side")->published);
        }
    }
}

TEST_CASE("heels in figure: 2 to 3 inches apart at most, or together") {
    // NFF figure division: 2-3 in (5.1-7.6 cm) front and back.
    const RuleSet figure = bundled("womens_figure");
    for (const char* pose : {"quarter_front", "quarter_back"}) {
        CHECK(limit(figure, pose, "heel_distance").value == doctest::Approx(3 * 2.54).epsilon(0.01));
        CHECK(figure.find_pose(pose)->find_item("heel_distance")->published);
    }
    const RuleSet closer = with_choice(figure, "heels", "closer").value();
    CHECK(limit(closer, "quarter_front", "heel_distance").value == doctest::Approx(2 * 2.54).epsilon(0.01));
}

TEST_CASE("feet turned out by 30 degrees is a published expectation in figure and wellness") {
    // NGA by-laws p. 45; naturalmuscle.com, judging wellness.
    for (const char* id : {"womens_figure", "womens_wellness"}) {
        const RuleSet rule_set = bundled(id);
        const ChecklistItem* item = rule_set.find_pose("quarter_front")->find_item("feet_turned_out");
        REQUIRE(item != nullptr);
        CHECK(item->published);
        CHECK_FALSE(item->measured);
        CHECK(item->text.find("30 degrees") != std::string::npos);
    }
}

TEST_CASE("stage walk and routine: seconds at most") {
    const RuleSet bikini = bundled("womens_bikini");  // theopennatural.com: 3 s each pose, the whole walk 30 s
    CHECK(bikini.find_round_limit("walk")->seconds == 30);
    CHECK(bikini.find_round_limit("walk_stop")->seconds == 3);
    CHECK(with_choice(bikini, "walk_length", "ten")->find_round_limit("walk")->seconds == 10);     // NPC rules, a copy
    CHECK(with_choice(bikini, "walk_length", "ninety")->find_round_limit("walk")->seconds == 90);  // NGA p. 50, 55
    CHECK(bundled("womens_figure").find_round_limit("walk")->seconds == 60);                       // NGA p. 50, 55
    const RuleSet mens = bundled("mens_physique");  // signup.icelandopen.is: 30 s walk-on
    CHECK(mens.find_round_limit("walk")->seconds == 30);
    CHECK(with_choice(mens, "walk_length", "sixty")->find_round_limit("walk")->seconds ==
          60);  // ngaoldnavyproamclassic.com
    for (const char* id : {"mens_bodybuilding", "mens_classic_physique", "womens_bodybuilding", "womens_physique"}) {
        const RuleSet rule_set = bundled(id);
        CHECK(rule_set.find_round_limit("routine")->seconds == 60);              // NPC, OCB, WFF, INBF, IFBB
        CHECK(rule_set.find_round_limit("one_mandatory_round")->seconds == 60);  // iceland-open.com
        CHECK(with_choice(rule_set, "routine_length", "ninety")->find_round_limit("routine")->seconds ==
              90);  // NABBA Au.
    }
}

TEST_CASE("a published limit names its source and a limit without one says so") {
    for (const std::string& id : bundled_rule_sets()) {
        for (const PoseExpectation& pose : bundled(id.c_str()).poses) {
            for (const ChecklistItem& item : pose.items) {
                CAPTURE(id);
                CAPTURE(item.id);
                CHECK_FALSE(item.source.empty());
                const bool says_so =
                    item.source.find("common practice") != std::string::npos || item.id == "hold_length";
                CHECK(item.published != says_so);
            }
        }
    }
}

TEST_CASE("no publisher's name stands in what a screen shows") {
    const std::vector<std::string> names{"IFBB", "NPC",   "NGA", "NFF", "OCB", "INBF",
                                         "WNBF", "NABBA", "ANB", "GBA", "WFF", "Iceland"};
    const auto is_free = [&](const std::string& text) {
        return std::none_of(names.begin(), names.end(),
                            [&](const auto& name) { return text.find(name) != std::string::npos; });
    };
    for (const std::string& id : bundled_rule_sets()) {
        CAPTURE(id);
        const RuleSet rule_set = bundled(id.c_str());
        CHECK(is_free(rule_set.title));
        for (const RoundLimit& round : rule_set.round_limits) CHECK(is_free(round.title));
        for (const PoseExpectation& pose : rule_set.poses) {
            CHECK(is_free(pose.title));
            for (const ChecklistItem& item : pose.items) CHECK(is_free(item.text));
        }
        for (const Setting& setting : rule_set.settings) {
            CHECK(is_free(setting.title));
            for (const Choice& choice : setting.choices) CHECK(is_free(choice.title));
        }
    }
}
