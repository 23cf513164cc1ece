#include "rules/rule_set_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "rules/json_reader.hpp"
#include "rules/pose.hpp"

namespace quarterturn::rules {
namespace {

std::optional<Comparison> find_comparison(std::string_view word) {
    if (word == "at_most") return Comparison::at_most;
    if (word == "at_least") return Comparison::at_least;
    return std::nullopt;
}

std::optional<Side> find_side(std::string_view word) {
    if (word == "none") return Side::none;
    if (word == "left") return Side::left;
    if (word == "right") return Side::right;
    if (word == "either") return Side::either;
    return std::nullopt;
}

double above_zero(JsonReader& reader, const std::string& name, double fallback) {
    const double value = reader.number_or(name, fallback);
    if (value <= 0) reader.wrong(name, "must be a number above 0");
    return value;
}

std::string some_text(JsonReader& reader, const std::string& name) {
    std::string text = reader.text(name);
    if (text.empty()) reader.wrong(name, "must not be empty");
    return text;
}

std::optional<Limit> read_limit(JsonReader& item) {
    if (!item.has("limit")) return std::nullopt;
    JsonReader reader = item.object("limit");
    Limit limit;
    limit.comparison = reader.word<Comparison>("comparison", find_comparison, "at_most, at_least");
    limit.value = reader.number("value");
    if (limit.value < 0) reader.wrong("value", "must be a number of 0 or more");
    limit.unit = reader.text_or("unit", "");
    return limit;
}

ChecklistItem read_item(JsonReader& reader) {
    ChecklistItem item;
    item.id = reader.identifier("id");
    item.text = some_text(reader, "text");
    item.weight = above_zero(reader, "weight", 1);
    item.measured = reader.flag_or("measured", false);
    item.limit = read_limit(reader);
    item.published = reader.flag_or("published", false);
    item.source = reader.text_or("source", "");
    const auto& known = measured_items();
    if (item.measured && std::find(known.begin(), known.end(), item.id) == known.end())
        reader.wrong("measured", "the program cannot measure this item; leave it false");
    if (item.measured && !item.limit && item.id != "hold_length")
        reader.wrong("limit", "is missing for a measured item");
    item.extras = reader.extras();
    return item;
}

PoseExpectation read_pose(JsonReader& reader) {
    PoseExpectation pose;
    pose.pose = reader.identifier("pose");
    const Pose* known = find_pose(pose.pose);
    if (known == nullptr && !reader.has("title"))
        reader.wrong("title", "is missing; a pose the program does not know needs one");
    pose.title = known != nullptr ? reader.text_or("title", std::string{known->title}) : reader.text_or("title", "");
    if (reader.has("side")) pose.side = reader.word<Side>("side", find_side, "none, left, right, either");
    pose.target_hold_s = above_zero(reader, "target_hold_s", 8);
    std::set<std::string> ids;
    for (JsonReader& entry : reader.objects("items")) {
        pose.items.push_back(read_item(entry));
        if (!ids.insert(pose.items.back().id).second) entry.wrong("id", "comes twice in this pose");
    }
    pose.extras = reader.extras();
    return pose;
}

std::vector<RoundLimit> read_round_limits(JsonReader& reader) {
    std::vector<RoundLimit> limits;
    for (JsonReader& entry : reader.objects("round_limits")) {
        RoundLimit limit;
        limit.id = entry.identifier("id");
        limit.title = some_text(entry, "title");
        if (!entry.has("seconds")) entry.wrong("seconds", "is missing; it must be a number above 0");
        limit.seconds = above_zero(entry, "seconds", 1);
        limit.published = entry.flag_or("published", false);
        limit.source = entry.text_or("source", "");
        limit.extras = entry.extras();
        limits.push_back(std::move(limit));
    }
    return limits;
}

int read_dropped(JsonReader& reader) {
    const std::int64_t dropped = reader.integer("judges_dropped", 0);
    if (dropped > 10) reader.wrong("judges_dropped", "must be at most 10");
    return static_cast<int>(std::clamp<std::int64_t>(dropped, 0, 10));
}

std::vector<std::string> read_order(JsonReader& reader, const RuleSet& rule_set) {
    std::vector<std::string> order = reader.texts("call_order");
    for (std::size_t i = 0; i < order.size(); ++i) {
        if (rule_set.find_pose(order[i]) == nullptr)
            reader.wrong(fmt::format("call_order[{}]", i), "is no pose of this rule set");
    }
    return order;
}

Choice read_choice(JsonReader& reader, const RuleSet& rule_set) {
    Choice choice;
    choice.id = reader.identifier("id");
    choice.title = some_text(reader, "title");
    choice.call_order = read_order(reader, rule_set);
    choice.round_limits = read_round_limits(reader);
    if (reader.has("item_limits")) {
        JsonReader limits = reader.object("item_limits");
        for (const std::string& item : limits.names()) {
            choice.item_limits[item] = limits.number(item);
            if (choice.item_limits[item] < 0) limits.wrong(item, "must be a number of 0 or more");
        }
    }
    if (reader.has("item_texts")) {
        JsonReader texts = reader.object("item_texts");
        for (const std::string& item : texts.names()) choice.item_texts[item] = some_text(texts, item);
    }
    if (reader.has("judges_dropped")) choice.judges_dropped = read_dropped(reader);
    choice.source = reader.text_or("source", "");
    choice.extras = reader.extras();
    return choice;
}

Setting read_setting(JsonReader& reader, const RuleSet& rule_set) {
    Setting setting;
    setting.id = reader.identifier("id");
    setting.title = some_text(reader, "title");
    setting.chosen = reader.text("default");
    for (JsonReader& entry : reader.objects("choices")) {
        Choice choice = read_choice(entry, rule_set);
        if (setting.find_choice(choice.id) != nullptr) entry.wrong("id", "comes twice in this setting");
        setting.choices.push_back(std::move(choice));
    }
    if (setting.find_choice(setting.chosen) == nullptr) reader.wrong("default", "is no choice of this setting");
    setting.extras = reader.extras();
    return setting;
}

void read_poses(JsonReader& reader, RuleSet& rule_set) {
    for (JsonReader& entry : reader.objects("poses")) {
        PoseExpectation pose = read_pose(entry);
        if (rule_set.find_pose(pose.pose) != nullptr) entry.wrong("pose", "comes twice; call_order may repeat it");
        rule_set.poses.push_back(std::move(pose));
    }
    if (rule_set.poses.empty()) reader.wrong("poses", "must hold at least one pose");
    rule_set.call_order = read_order(reader, rule_set);
    if (!reader.has("call_order")) {
        for (const PoseExpectation& pose : rule_set.poses) rule_set.call_order.push_back(pose.pose);
    }
    if (rule_set.call_order.empty()) reader.wrong("call_order", "must hold at least one pose");
}

Status check_version(JsonReader& reader) {
    if (reader.text("format") != "quarterturn.rule_set") reader.wrong("format", "must be \"quarterturn.rule_set\"");
    const std::int64_t version = reader.integer("version", 1);
    if (!reader.fine()) return reader.problem();
    if (version <= rule_set_version) return ok();
    return Error{ErrorCode::newer_version,
                 fmt::format("The rule set has version {}, this program knows {}. Use a newer program.", version,
                             rule_set_version)};
}

}  // namespace

Result<RuleSet> read_rule_set(std::string_view text) {
    const auto document = parse_json(text);
    if (!document) return document.error();
    JsonReader reader{*document};
    if (Status version = check_version(reader); !version) return version.error();
    RuleSet rule_set;
    rule_set.id = reader.identifier("id");
    rule_set.title = some_text(reader, "title");
    rule_set.division = reader.text_or("division", rule_set.id);
    read_poses(reader, rule_set);
    rule_set.round_limits = read_round_limits(reader);
    if (reader.has("judges_dropped")) rule_set.judges_dropped = read_dropped(reader);
    for (JsonReader& entry : reader.objects("settings")) {
        Setting setting = read_setting(entry, rule_set);
        if (rule_set.find_setting(setting.id) != nullptr) entry.wrong("id", "comes twice in this rule set");
        rule_set.settings.push_back(std::move(setting));
    }
    rule_set.sources = reader.texts("sources");
    rule_set.extras = reader.extras();
    if (!reader.fine()) return reader.problem();
    return rule_set;
}

}  // namespace quarterturn::rules
