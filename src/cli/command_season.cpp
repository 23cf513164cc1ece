/// quarterturn season and session: the run-up to a show, and its days of practice.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <cstdlib>
#include <memory>

#include "cli/context.hpp"
#include "cli/json_output.hpp"
#include "cli/library_access.hpp"
#include "cli/ranges.hpp"
#include "cli/table.hpp"
#include "rules/rule_sets.hpp"

namespace quarterturn::cli {
namespace {

constexpr double longest_goal_s = 600;  // as journal::Season

struct SeasonOptions {
    std::string which, title, show_date, division;
    std::optional<double> height_cm;
    std::vector<std::string> choices, goals;  ///< "key=value"
};

/// "key=value" taken apart.
Result<std::pair<std::string, std::string>> assignment(const std::string& text) {
    const auto sign = text.find('=');
    if (sign == std::string::npos || sign == 0 || sign + 1 == text.size())
        return Error{ErrorCode::bad_input, fmt::format("\"{}\" should be written as name=value.", text)};
    return std::pair{text.substr(0, sign), text.substr(sign + 1)};
}

Status apply_choices_and_goals(const SeasonOptions& options, journal::Season& season) {
    for (const auto& text : options.choices) {
        const auto choice = assignment(text);
        if (!choice) return choice.error();
        season.rule_choices[choice->first] = choice->second;
    }
    for (const auto& text : options.goals) {
        const auto goal = assignment(text);
        if (!goal) return goal.error();
        char* end = nullptr;
        const double seconds = std::strtod(goal->second.c_str(), &end);
        if (*end != '\0' || !(seconds > 0) || seconds > longest_goal_s)
            return Error{ErrorCode::bad_input, fmt::format("\"{}\" is not a number of seconds above 0, {:.0f} at most.",
                                                           goal->second, longest_goal_s)};
        season.target_hold_s[goal->first] = seconds;
    }
    return ok();
}

/// Puts what was given into `season` and checks it against the rule set.
Status apply(const SeasonOptions& options, const journal::Store& store, journal::Season& season) {
    if (!options.title.empty()) season.title = options.title;
    if (!options.show_date.empty()) {
        const auto date = parse_date(options.show_date);
        if (!date) return date.error();
        season.show_date = *date;
    }
    if (!options.division.empty()) season.rule_set = options.division;
    if (options.height_cm) season.barefoot_height_cm = options.height_cm;
    if (Status set = apply_choices_and_goals(options, season); !set) return set;
    auto rule_set = rules::load_rule_set(season.rule_set, store.rules_folder());
    if (!rule_set) return rule_set.error();
    const auto chosen = rules::with_choices(std::move(*rule_set), season.rule_choices);
    if (!chosen) return chosen.error();
    for (const auto& [pose, seconds] : season.target_hold_s) {
        if (chosen->find_pose(pose) == nullptr)
            return Error{ErrorCode::not_found, fmt::format("The rule set has no pose \"{}\".", pose)};
    }
    return ok();
}

Status start_season(const Context& context, const SeasonOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    if (options.title.empty()) return Error{ErrorCode::bad_input, "A season needs a title, e.g. Spring."};
    journal::Season season;
    if (Status applied = apply(options, library->store, season); !applied) return applied;
    for (const auto& other : library->now.seasons)
        if (other.title == season.title && other.show_date == season.show_date)
            return Error{ErrorCode::conflict, fmt::format("There is a season \"{}\" with its show on {} already. "
                                                          "`quarterturn season change` changes it.",
                                                          season.title, format_date(season.show_date))};
    const auto added = library->store.add_season(season, library->author);
    if (!added) return added.error();
    fmt::print("Season \"{}\" with its show on {} ({}).\n", added->title, format_date(added->show_date),
               added->rule_set);
    return ok();
}

Status change_season(const Context& context, const SeasonOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    auto season = find_season(library->now, options.which);
    if (!season) return season.error();
    if (Status applied = apply(options, library->store, *season); !applied) return applied;
    const auto edited = library->store.edit_season(*season, library->author);
    if (!edited) return edited.error();
    return ok();
}

int weeks_to_show(const journal::Season& season) {
    return weeks_out(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now()), season.show_date);
}

std::string weeks_words(const journal::Season& season) {
    const int weeks = weeks_to_show(season);
    return weeks < 0 ? "over" : std::to_string(weeks);
}

Status list_seasons(const Context& context) {
    auto library = open_library(context);
    if (!library) return library.error();
    if (context.json) {
        Json list = Json::array();
        for (const auto& season : library->now.seasons)
            list.push_back({{"id", season.id},
                            {"title", season.title},
                            {"show_date", format_date(season.show_date)},
                            {"rule_set", season.rule_set},
                            {"rule_choices", season.rule_choices},
                            {"barefoot_height_cm", or_null(season.barefoot_height_cm)},
                            {"target_hold_s", season.target_hold_s},
                            {"sessions", library->now.sessions_of(season.id).size()}});
        print_json(list);
        return ok();
    }
    Table table{{"season", "show", "weeks out", "division", "sessions", "id"}, {}, {false, false, true, false, true}};
    for (const auto& season : library->now.seasons)
        table.rows.push_back({season.title, format_date(season.show_date), weeks_words(season), season.rule_set,
                              std::to_string(library->now.sessions_of(season.id).size()), short_id(season.id)});
    fmt::print("{}", format_table(table));
    return ok();
}

void add_season_fields(CLI::App* command, SeasonOptions& options) {
    command->add_option("--show-date", options.show_date, "Day of the show, e.g. 2027-05-29");
    command->add_option("--division", options.division, "Rule set id or a JSON file (`quarterturn rules list`)");
    command->add_option("--height-cm", options.height_cm, "Barefoot height in this season")
        ->check(number_from(50.0, 260.0));
    command->add_option("--choice", options.choices,
                        "Where federations differ: setting=choice (`quarterturn rules show`)");
    command->add_option("--goal", options.goals, "Hold goal of your own: pose=seconds");
}

struct SessionOptions {
    std::string which, date, title;
    std::optional<double> heels_cm;
};

Status change_session(const Context& context, const SessionOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    auto session = find_session(library->now, options.which);
    if (!session) return session.error();
    if (!options.date.empty()) {
        const auto date = parse_date(options.date);
        if (!date) return date.error();
        session->date = *date;
        session->date_source = journal::DateSource::given;
    }
    if (!options.title.empty()) session->title = options.title;
    if (options.heels_cm) session->heel_height_cm = options.heels_cm;
    const auto edited = library->store.edit_session(*session, library->author);
    if (!edited) return edited.error();
    fmt::print("Session {}.\n", format_date(edited->date));
    return ok();
}

Status list_sessions(const Context& context) {
    auto library = open_library(context);
    if (!library) return library.error();
    Json list = Json::array();
    Table table{
        {"date", "weeks out", "season", "clips", "notes", "heels", "id"}, {}, {false, true, false, true, true, true}};
    for (const auto& session : library->now.sessions) {
        const auto* season = library->now.find_season(session.season);
        const int weeks = season != nullptr ? weeks_out(session.date, season->show_date) : 0;
        const auto clips = library->now.clips_of(session.id).size();
        const auto notes = library->now.notes_of_session(session.id).size();
        list.push_back({{"id", session.id},
                        {"season", session.season},
                        {"date", format_date(session.date)},
                        {"date_source", journal::date_source_id(session.date_source)},
                        {"date_guessed", session.date_is_guessed()},
                        {"weeks_out", weeks},
                        {"heel_height_cm", or_null(session.heel_height_cm)},
                        {"title", session.title},
                        {"clips", clips},
                        {"notes", notes}});
        table.rows.push_back(
            {format_date(session.date) + (session.date_is_guessed() ? " (guessed)" : ""), std::to_string(weeks),
             season != nullptr ? season->title : "", std::to_string(clips), std::to_string(notes),
             session.heel_height_cm ? fmt::format("{:.1f} cm", *session.heel_height_cm) : "", short_id(session.id)});
    }
    if (context.json)
        print_json(list);
    else
        fmt::print("{}", format_table(table));
    return ok();
}

template <class Remove>
CLI::App* add_remove(CLI::App& parent, Context& context, const std::string& what, Remove remove) {
    const auto which = std::make_shared<std::string>();
    CLI::App* command = add_command(parent, context, "remove", "Remove a " + what + " that holds nothing",
                                    [&context, which, remove]() -> Status {
                                        auto library = open_library(context);
                                        if (!library) return library.error();
                                        return remove(*library, *which);
                                    });
    command->add_option(what, *which, "Which " + what)->required();
    return command;
}

}  // namespace

void add_seasons(CLI::App& app, Context& context) {
    CLI::App* season = app.add_subcommand("season", "Start, change and list seasons")->fallthrough();
    season->require_subcommand(1);
    const auto fresh = std::make_shared<SeasonOptions>();
    CLI::App* start = add_command(*season, context, "start", "Begin the run-up to a show",
                                  [&context, fresh] { return start_season(context, *fresh); });
    start->add_option("title", fresh->title, "Its name")->required();
    add_season_fields(start, *fresh);
    start->get_option("--show-date")->required();
    start->get_option("--division")->required();
    const auto changed = std::make_shared<SeasonOptions>();
    CLI::App* change = add_command(*season, context, "change", "Change a season",
                                   [&context, changed] { return change_season(context, *changed); });
    change->add_option("season", changed->which, "Title, show date or id (default: the coming one)");
    change->add_option("--title", changed->title, "A new name");
    add_season_fields(change, *changed);
    add_command(*season, context, "list", "List the seasons", [&context] {
        return list_seasons(context);
    })->add_flag("--json", context.json, "As JSON");
    add_remove(*season, context, "season", [](OpenLibrary& library, const std::string& which) -> Status {
        const auto found = find_season(library.now, which);
        return found ? library.store.remove_season(found->id, library.author) : Status{found.error()};
    });

    CLI::App* session = app.add_subcommand("session", "Change and list days of practice")->fallthrough();
    session->require_subcommand(1);
    const auto options = std::make_shared<SessionOptions>();
    CLI::App* edit =
        add_command(*session, context, "change", "Move a session to another date, note its heels or a title",
                    [&context, options] { return change_session(context, *options); });
    edit->add_option("session", options->which, "Date or id (default: the latest)");
    edit->add_option("--date", options->date, "The right date; all its clips move with it");
    edit->add_option("--heels-cm", options->heels_cm, "Heel height; 0 is barefoot")->check(number_from(0.0, 30.0));
    edit->add_option("--title", options->title, "A name for the day");
    add_command(*session, context, "list", "List the sessions", [&context] {
        return list_sessions(context);
    })->add_flag("--json", context.json, "As JSON");
    add_remove(*session, context, "session", [](OpenLibrary& library, const std::string& which) -> Status {
        const auto found = find_session(library.now, which);
        return found ? library.store.remove_session(found->id, library.author) : Status{found.error()};
    });
}

}  // namespace quarterturn::cli
