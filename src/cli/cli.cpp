#include "cli/cli.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdio>

#include "base/places.hpp"
#include "cli/context.hpp"
#include "cli/interrupt.hpp"
#include "cli/usage_error.hpp"

namespace quarterturn::cli {
namespace {

constexpr const char* description =
    "quarterturn measures posing practice: films become holds per mandatory pose, notes, scores and a report.\n"
    "Everything stays on this machine.";

constexpr const char* footer =
    "First steps:\n"
    "  quarterturn demo                                       the invented demo seasons, measured, with a report\n"
    "  quarterturn analyze CLIP --rules womens_figure         one film, no library needed\n"
    "  quarterturn create && quarterturn season start ...     a library of your own\n"
    "\n"
    "With every command: --library, --author, --role, --model-dir, --model-size (quarterturn --help).\n"
    "Exit codes: 0 done, 1 reading or writing failed, 2 wrong usage, 3 not found, 4 not readable or makes no sense,\n"
    "5 no permission, 6 conflict, 7 written by a newer version, 8 a part is not installed, 9 problems found, 130 "
    "stopped.";

void add_shared_options(CLI::App& app, Context& context) {
    app.add_option("--library", context.library_option,
                   "Library folder (default: $QUARTERTURN_LIBRARY, else your data folder)");
    app.add_option("--author", context.author, "Who writes notes and marks (default: the library's athlete)");
    app.add_option("--role", context.role, "In which role: athlete or coach")
        ->check(CLI::IsMember({"athlete", "coach"}));
    app.add_option("--model-dir", context.model_folder, "Folder with the landmark model");
    app.add_option("--model-size", context.model_size,
                   "Of the landmark model: lite is quicker, heavy much slower (default: the library's, else full)")
        ->check(CLI::IsMember({"lite", "full", "heavy"}));
}

}  // namespace

std::filesystem::path Context::library_folder() const {
    return library_option.empty() ? default_library_folder() : std::filesystem::path{library_option};
}

share::MeasureSettings Context::measure_settings() const {
    share::MeasureSettings settings;
    settings.model_folder = model_folder;
    settings.model_size = body::model_size_named(model_size);
    settings.stop = stop;
    return settings;
}

CLI::App* add_command(CLI::App& parent, Context& context, const std::string& name, const std::string& text,
                      std::function<Status()> action) {
    CLI::App* command = parent.add_subcommand(name, text);
    command->fallthrough();
    command->final_callback([&context, action = std::move(action)] {
        const Status status = action();
        if (status) return;
        fmt::print(stderr, "quarterturn: {}\n", status.error().detail);
        context.exit = exit_code_for(status.error().code);
    });
    return command;
}

int run(int argc, const char* const* argv) {
    // A reader that goes away (`| head`) is an error of the write, not a reason to die without a word.
    std::signal(SIGPIPE, SIG_IGN);
    const Interrupt interrupt;
    Context context;
    context.stop = interrupt.token();

    CLI::App app{description, "quarterturn"};
    app.footer(footer);
    app.set_version_flag("--version", QUARTERTURN_VERSION);
    app.require_subcommand(1);
    add_shared_options(app, context);
    for (const auto add : {add_demo, add_analyze, add_still, add_library, add_athlete, add_seasons, add_clips,
                           add_holds, add_notes, add_marks, add_compare, add_report, add_rules})
        add(app, context);
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        if (error.get_exit_code() == 0) return app.exit(error);  // help or the version was asked for
        fmt::print(stderr, "quarterturn: {}\n", usage_sentence(app, error));
        return static_cast<int>(ExitCode::wrong_usage);
    }
    if (std::fflush(stdout) != 0 && context.exit == ExitCode::done) context.exit = ExitCode::failed;
    return static_cast<int>(context.exit);
}

}  // namespace quarterturn::cli
