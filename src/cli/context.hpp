#pragma once
/// What every command shares: the options before the command, the outcome, and stopping on Ctrl-C.
#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>

#include "base/result.hpp"
#include "cli/exit_code.hpp"
#include "share/measure.hpp"

namespace CLI {
class App;
}

namespace quarterturn::cli {

struct Context {
    std::string library_option;  ///< --library as given; empty: the default place
    std::string author;          ///< --author; empty: the library's athlete
    std::string role;            ///< --role: "athlete" or "coach"
    std::string model_folder;    ///< --model-dir as given
    std::string model_size;      ///< --model-size as given; empty: the library's choice
    bool json = false;           ///< --json before a command that lists
    std::stop_token stop;        ///< requested by Ctrl-C
    ExitCode exit = ExitCode::done;

    [[nodiscard]] std::filesystem::path library_folder() const;
    /// How every command measures: the model, and stopping.
    [[nodiscard]] share::MeasureSettings measure_settings() const;
};

/// Declares a subcommand whose action is run after all arguments were understood. An Error becomes one sentence on
/// standard error and an exit code.
CLI::App* add_command(CLI::App& parent, Context& context, const std::string& name, const std::string& description,
                      std::function<Status()> action);

// One function per file in this folder; each declares its commands.
void add_analyze(CLI::App& app, Context& context);
void add_still(CLI::App& app, Context& context);
void add_library(CLI::App& app, Context& context);
void add_athlete(CLI::App& app, Context& context);
void add_seasons(CLI::App& app, Context& context);
void add_clips(CLI::App& app, Context& context);
void add_holds(CLI::App& app, Context& context);
void add_notes(CLI::App& app, Context& context);
void add_marks(CLI::App& app, Context& context);
void add_rules(CLI::App& app, Context& context);
void add_report(CLI::App& app, Context& context);
void add_compare(CLI::App& app, Context& context);
void add_demo(CLI::App& app, Context& context);

}  // namespace quarterturn::cli
