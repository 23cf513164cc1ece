#include "rules/json_text.hpp"
#include "rules/rule_set_json.hpp"

namespace quarterturn::rules {
namespace {

std::string_view side_word(Side side) {
    switch (side) {
        case Side::left:
            return "left";
        case Side::right:
            return "right";
        case Side::either:
            return "either";
        case Side::none:
            break;
    }
    return "none";
}

OrderedJson item_json(const ChecklistItem& item) {
    OrderedJson document{{"id", item.id}, {"text", item.text}, {"weight", item.weight}, {"measured", item.measured}};
    if (item.limit) {
        document["limit"] = {{"comparison", item.limit->comparison == Comparison::at_most ? "at_most" : "at_least"},
                             {"value", item.limit->value},
                             {"unit", item.limit->unit}};
    }
    document["published"] = item.published;
    document["source"] = item.source;
    add_extras(document, item.extras);
    return document;
}

OrderedJson pose_json(const PoseExpectation& pose) {
    OrderedJson document{{"pose", pose.pose},
                         {"title", pose.title},
                         {"side", side_word(pose.side)},
                         {"target_hold_s", pose.target_hold_s},
                         {"items", OrderedJson::array()}};
    for (const ChecklistItem& item : pose.items) document["items"].push_back(item_json(item));
    add_extras(document, pose.extras);
    return document;
}

OrderedJson limits_json(const std::vector<RoundLimit>& limits) {
    OrderedJson list = OrderedJson::array();
    for (const RoundLimit& limit : limits) {
        OrderedJson document{{"id", limit.id},
                             {"title", limit.title},
                             {"seconds", limit.seconds},
                             {"published", limit.published},
                             {"source", limit.source}};
        add_extras(document, limit.extras);
        list.push_back(std::move(document));
    }
    return list;
}

OrderedJson choice_json(const Choice& choice) {
    OrderedJson document{{"id", choice.id}, {"title", choice.title}};
    if (!choice.call_order.empty()) document["call_order"] = choice.call_order;
    if (!choice.round_limits.empty()) document["round_limits"] = limits_json(choice.round_limits);
    if (!choice.item_limits.empty()) document["item_limits"] = choice.item_limits;
    if (!choice.item_texts.empty()) document["item_texts"] = choice.item_texts;
    if (choice.judges_dropped) document["judges_dropped"] = *choice.judges_dropped;
    document["source"] = choice.source;
    add_extras(document, choice.extras);
    return document;
}

OrderedJson setting_json(const Setting& setting) {
    OrderedJson document{
        {"id", setting.id}, {"title", setting.title}, {"default", setting.chosen}, {"choices", OrderedJson::array()}};
    for (const Choice& choice : setting.choices) document["choices"].push_back(choice_json(choice));
    add_extras(document, setting.extras);
    return document;
}

}  // namespace

std::string write_rule_set(const RuleSet& rule_set) {
    OrderedJson document{
        {"format", "quarterturn.rule_set"}, {"version", rule_set_version},   {"id", rule_set.id},
        {"title", rule_set.title},          {"division", rule_set.division}, {"call_order", rule_set.call_order},
        {"poses", OrderedJson::array()}};
    for (const PoseExpectation& pose : rule_set.poses) document["poses"].push_back(pose_json(pose));
    document["round_limits"] = limits_json(rule_set.round_limits);
    document["judges_dropped"] = rule_set.judges_dropped;
    document["settings"] = OrderedJson::array();
    for (const Setting& setting : rule_set.settings) document["settings"].push_back(setting_json(setting));
    document["sources"] = rule_set.sources;
    add_extras(document, rule_set.extras);
    return json_text(document);
}

}  // namespace quarterturn::rules
