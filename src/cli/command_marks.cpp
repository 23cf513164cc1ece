/// quarterturn mark: checklist marks from 0 (missing) to 4 (as it should be).
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/context.hpp"
#include "cli/json_output.hpp"
#include "cli/library_access.hpp"
#include "cli/ranges.hpp"
#include "cli/table.hpp"
#include "journal/score.hpp"
#include "share/measure.hpp"

namespace quarterturn::cli {
namespace {

struct MarkOptions {
    std::string session, pose, item, clip;
    std::optional<int> value;
};

struct Sheet {
    journal::Session session;
    rules::RuleSet rule_set;
};

Result<Sheet> sheet_of(const OpenLibrary& library, const std::string& which) {
    const auto session = find_session(library.now, which);
    if (!session) return session.error();
    const auto* season = library.now.find_season(session->season);
    if (season == nullptr) return Error{ErrorCode::not_found, "The session's season is not in this library."};
    auto rule_set = share::rule_set_of(library.store, *season);
    if (!rule_set) return rule_set.error();
    return Sheet{*session, std::move(*rule_set)};
}

Status set(const Context& context, const MarkOptions& options, bool take_back) {
    auto library = open_library(context);
    if (!library) return library.error();
    const auto sheet = sheet_of(*library, options.session);
    if (!sheet) return sheet.error();
    const auto* pose = sheet->rule_set.find_pose(options.pose);
    if (pose == nullptr)
        return Error{ErrorCode::not_found,
                     fmt::format("The division has no pose \"{}\". `quarterturn mark list` shows them.", options.pose)};
    if (pose->find_item(options.item) == nullptr)
        return Error{ErrorCode::not_found,
                     fmt::format("The checklist of {} has no item \"{}\". `quarterturn mark list` shows them.",
                                 options.pose, options.item)};
    journal::Mark mark;
    mark.session = sheet->session.id;
    mark.pose = options.pose;
    mark.item = options.item;
    mark.author = library->author;
    if (!take_back) mark.value = options.value;
    if (!options.clip.empty()) {
        const auto clip = find_clip(library->now, options.clip);
        if (!clip) return clip.error();
        mark.clip = clip->id;
    }
    const auto kept = library->store.set_mark(mark);
    return kept ? ok() : Status{kept.error()};
}

std::string value_of(const journal::Mark* mark) {
    return mark != nullptr && mark->value ? std::to_string(*mark->value) : "";
}

/// The mark a role gave itself, not the program's in its place.
const journal::Mark* own_mark(const journal::Mark* mark, journal::Role role) {
    return mark != nullptr && mark->author.role == role ? mark : nullptr;
}

Json as_json(const journal::Mark& mark) {
    return {{"session", mark.session},
            {"pose", mark.pose},
            {"item", mark.item},
            {"author", {{"name", mark.author.name}, {"role", journal::role_id(mark.author.role)}}},
            {"value", or_null(mark.value)},
            {"measured", or_null(mark.measured)},
            {"unit", mark.unit},
            {"clip", or_null(mark.clip)}};
}

void print_scores(const Sheet& sheet, const std::vector<journal::Mark>& marks) {
    for (const auto role : {journal::Role::athlete, journal::Role::coach}) {
        const auto score = journal::session_score(sheet.rule_set, marks, sheet.session.id, role);
        const std::string percent = score.percent ? fmt::format("{:.0f} %", *score.percent) : "no marks";
        fmt::print("{}: {} ({} of {} items marked)\n", journal::role_id(role), percent, score.marked, score.items);
    }
}

Status list(const Context& context, const MarkOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    const auto sheet = sheet_of(*library, options.session);
    if (!sheet) return sheet.error();
    const auto& marks = library->now.marks;
    if (context.json) {
        Json document = Json::array();
        for (const auto& mark : marks) {
            if (mark.session == sheet->session.id) document.push_back(as_json(mark));
        }
        print_json(document);
        return ok();
    }
    Table table{{"pose", "item", "athlete", "coach", "measured", "what"}, {}, {false, false, true, true, true}};
    for (const auto* pose : sheet->rule_set.called()) {
        for (const auto& item : pose->items) {
            const auto held = [&](journal::Role role) {
                return own_mark(journal::mark_that_holds(marks, sheet->session.id, pose->pose, item.id, role), role);
            };
            table.rows.push_back({pose->pose, item.id, value_of(held(journal::Role::athlete)),
                                  value_of(held(journal::Role::coach)), value_of(held(journal::Role::program)),
                                  item.text});
        }
    }
    fmt::print("{}", format_table(table));
    print_scores(*sheet, marks);
    return ok();
}

}  // namespace

void add_marks(CLI::App& app, Context& context) {
    CLI::App* mark = app.add_subcommand("mark", "Checklist marks, 0 to 4")->fallthrough();
    mark->require_subcommand(1);
    const auto options = std::make_shared<MarkOptions>();
    const auto which = [&options](CLI::App* command) {
        command->add_option("pose", options->pose, "Pose id")->required();
        command->add_option("item", options->item, "Checklist item id")->required();
    };
    const auto session = [&options](CLI::App* command) {
        command->add_option("--session", options->session, "Date or id (default: the latest)");
    };
    CLI::App* give = add_command(*mark, context, "set", "Give a mark",
                                 [&context, options] { return set(context, *options, false); });
    which(give);
    give->add_option("value", options->value, "0 missing ... 4 as it should be")
        ->required()
        ->check(whole_number_from(0, 4));
    give->add_option("--clip", options->clip, "The take it was given on");
    session(give);
    CLI::App* take = add_command(*mark, context, "clear", "Take a mark back",
                                 [&context, options] { return set(context, *options, true); });
    which(take);
    session(take);
    CLI::App* all = add_command(*mark, context, "list", "The checklist with all marks and the score",
                                [&context, options] { return list(context, *options); });
    session(all);
    all->add_flag("--json", context.json, "As JSON");
}

}  // namespace quarterturn::cli
