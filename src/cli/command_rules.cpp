/// quarterturn rules: what the divisions ask for.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/context.hpp"
#include "cli/table.hpp"
#include "rules/rule_sets.hpp"

namespace quarterturn::cli {
namespace {

Status list_rules() {
    Table table{{"id", "division", "poses in call order"}, {}, {}};
    for (const auto& id : rules::bundled_rule_sets()) {
        const auto rule_set = rules::bundled_rule_set(id);
        if (!rule_set) return rule_set.error();
        table.rows.push_back({id, rule_set->title, fmt::format("{}", fmt::join(rule_set->call_order, ", "))});
    }
    fmt::print("{}", format_table(table));
    return ok();
}

Status show_rules(const Context& context, const std::string& which) {
    const auto rule_set = rules::load_rule_set(which, context.library_folder() / "rules");
    if (!rule_set) return rule_set.error();
    fmt::print("{}\n\n", rule_set->title);
    Table poses{{"pose", "title", "goal", "checklist"}, {}, {false, false, true}};
    for (const auto* pose : rule_set->called()) {
        std::vector<std::string> items;
        for (const auto& item : pose->items) items.push_back(item.id);
        poses.rows.push_back({pose->pose, pose->title, fmt::format("{:.0f} s", pose->target_hold_s),
                              fmt::format("{}", fmt::join(items, ", "))});
    }
    fmt::print("{}", format_table(poses));
    for (const auto& limit : rule_set->round_limits) fmt::print("\n{}: {:.0f} s at most", limit.title, limit.seconds);
    fmt::print("\n");
    for (const auto& setting : rule_set->settings) {
        fmt::print("\n--choice {} (now {}): {}\n", setting.id, setting.chosen, setting.title);
        for (const auto& choice : setting.choices) fmt::print("    {}: {}\n", choice.id, choice.title);
    }
    return ok();
}

Status check_rules(const std::string& file) {
    const auto rule_set = rules::load_rule_set(std::filesystem::absolute(file).string());
    if (!rule_set) return rule_set.error();
    fmt::print("{} is a valid rule set: {} ({} poses).\n", file, rule_set->title, rule_set->poses.size());
    return ok();
}

Status print_rules(const std::string& id) {
    const auto rule_set = rules::bundled_rule_set(id);
    if (!rule_set) return rule_set.error();
    fmt::print("{}", rules::bundled_rule_set_text(id));
    return ok();
}

}  // namespace

void add_rules(CLI::App& app, Context& context) {
    CLI::App* rules = app.add_subcommand("rules", "Rule sets of the divisions, and your own")->fallthrough();
    rules->require_subcommand(1);
    const auto which = std::make_shared<std::string>();
    add_command(*rules, context, "list", "The rule sets that come along", [] { return list_rules(); });
    add_command(*rules, context, "show", "One rule set", [&context, which] { return show_rules(context, *which); })
        ->add_option("rule_set", *which, "Id or JSON file")
        ->required();
    add_command(*rules, context, "check", "Check a rule set file of your own", [which] { return check_rules(*which); })
        ->add_option("file", *which, "The JSON file")
        ->required();
    add_command(*rules, context, "print", "A rule set as JSON, to start your own from",
                [which] { return print_rules(*which); })
        ->add_option("rule_set", *which, "Id")
        ->required();
}

}  // namespace quarterturn::cli
