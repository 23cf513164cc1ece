/// quarterturn athlete: what holds for the whole library.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/context.hpp"
#include "cli/library_access.hpp"
#include "cli/ranges.hpp"

namespace quarterturn::cli {
namespace {

struct AthleteOptions {
    std::optional<std::string> name, model_size;
    std::optional<double> height_cm;
    bool hide = false, show = false;
};

Status change(const Context& context, const AthleteOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    journal::Athlete athlete = library->now.athlete;
    if (options.name) athlete.name = *options.name;
    if (options.height_cm) athlete.barefoot_height_cm = options.height_cm;
    if (options.model_size) athlete.model_size = *options.model_size;
    if (options.hide || options.show) athlete.hide_body_numbers = options.hide;
    const auto kept = library->store.edit_athlete(athlete, library->author);
    return kept ? ok() : Status{kept.error()};
}

Status show(const Context& context) {
    const auto library = open_library(context);
    if (!library) return library.error();
    const journal::Athlete& athlete = library->now.athlete;
    fmt::print("Name: {}\n", athlete.name.empty() ? "not given" : athlete.name);
    fmt::print("Barefoot height: {}\n", athlete.barefoot_height_cm ? fmt::format("{:g} cm", *athlete.barefoot_height_cm)
                                                                   : std::string{"not given"});
    fmt::print("Size of the landmark model: {}\n", athlete.model_size.empty() ? "full (default)" : athlete.model_size);
    fmt::print("Widths and silhouettes: {}\n", athlete.hide_body_numbers ? "hidden" : "shown");
    return ok();
}

}  // namespace

void add_athlete(CLI::App& app, Context& context) {
    CLI::App* athlete = app.add_subcommand("athlete", "What holds for all clips of the library")->fallthrough();
    athlete->require_subcommand(1);
    add_command(*athlete, context, "show", "What is known", [&context] { return show(context); });
    const auto options = std::make_shared<AthleteOptions>();
    CLI::App* command = add_command(*athlete, context, "change", "Name, height, what is shown, and how to measure",
                                    [&context, options] { return change(context, *options); });
    command->add_option("--name", options->name, "The athlete's name");
    command->add_option("--height-cm", options->height_cm, "Barefoot height")->check(number_from(100.0, 250.0));
    command
        ->add_option("--measure-with", options->model_size,
                     "Size of the landmark model for all clips; they are measured again when next needed")
        ->check(CLI::IsMember({"lite", "full", "heavy"}));
    auto* hide = command->add_flag("--hide-body-numbers", options->hide, "Do not show widths and silhouettes");
    command->add_flag("--show-body-numbers", options->show, "Show them")->excludes(hide);
}

}  // namespace quarterturn::cli
