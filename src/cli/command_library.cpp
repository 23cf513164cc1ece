/// quarterturn create, check, backup: the library as a whole.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/context.hpp"
#include "cli/library_access.hpp"
#include "cli/progress_line.hpp"
#include "cli/ranges.hpp"
#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"

namespace quarterturn::cli {
namespace {

struct CreateOptions {
    std::string folder, title = "Posing practice", athlete;
    std::optional<double> height_cm;
};

Status create(const Context& context, const CreateOptions& options) {
    const std::filesystem::path folder = options.folder.empty() ? context.library_folder().string() : options.folder;
    const journal::Author author{options.athlete, journal::Role::athlete};
    auto store = journal::Store::create(folder, options.title, author);
    if (!store) return store.error();
    auto library = store->read();
    if (!library) return library.error();
    library->athlete.name = options.athlete;
    library->athlete.barefoot_height_cm = options.height_cm;
    if (auto athlete = store->edit_athlete(library->athlete, author); !athlete) return athlete.error();
    fmt::print(
        "New library: {}\nNext: quarterturn season start \"Spring\" --show-date 2027-05-29 --division womens_figure\n",
        folder.string());
    return ok();
}

journal::Hash hash_of(const Context& context) {
    return [&context](const std::filesystem::path& file) { return media::fingerprint_of(file, context.stop); };
}

void print_findings(const std::vector<journal::Finding>& findings) {
    for (const auto& finding : findings) fmt::print("{}: {}\n", finding.path.string(), finding.what_to_do);
}

Status check(Context& context, const std::vector<std::filesystem::path>& places) {
    auto library = open_library(context);
    if (!library) return library.error();
    const auto findings = journal::check_library(library->store, places, hash_of(context));
    if (!findings) return findings.error();
    print_findings(*findings);
    if (findings->empty()) fmt::print("All {} clips are there and unchanged.\n", library->now.clips.size());
    if (!findings->empty()) context.exit = ExitCode::problems_found;
    return ok();
}

Status backup(Context& context, const std::string& destination) {
    auto library = open_library(context);
    if (!library) return library.error();
    ProgressLine line;
    const auto report =
        journal::backup_library(library->store, destination, hash_of(context), [&](std::size_t done, std::size_t all) {
            line.show(static_cast<double>(done) / static_cast<double>(std::max<std::size_t>(all, 1)), "copying clips");
        });
    if (!report) return report.error();
    fmt::print("{} documents and {} clips copied to {} ({:.1f} MB), every fingerprint verified.\n", report->documents,
               report->clips, destination, static_cast<double>(report->bytes) / 1e6);
    print_findings(report->left_out);
    if (!report->left_out.empty()) context.exit = ExitCode::problems_found;
    return ok();
}

}  // namespace

void add_library(CLI::App& app, Context& context) {
    const auto fresh = std::make_shared<CreateOptions>();
    CLI::App* create_command = add_command(app, context, "create", "Make a new library",
                                           [&context, fresh] { return create(context, *fresh); });
    create_command->add_option("folder", fresh->folder, "Where (default: as --library)");
    create_command->add_option("--athlete", fresh->athlete, "The athlete's name");
    create_command->add_option("--title", fresh->title, "A name for the library");
    create_command->add_option("--height-cm", fresh->height_cm, "Barefoot height; gives centimetres in the measures")
        ->check(number_from(50.0, 260.0));

    const auto places = std::make_shared<std::vector<std::filesystem::path>>();
    CLI::App* check_command = add_command(app, context, "check", "Find missing, moved, changed and unreadable files",
                                          [&context, places] { return check(context, *places); });
    check_command->add_option("--look-in", *places, "Folders in which to look for moved films");

    const auto destination = std::make_shared<std::string>();
    CLI::App* backup_command =
        add_command(app, context, "backup", "Copy the library with its films and verify every fingerprint",
                    [&context, destination] { return backup(context, *destination); });
    backup_command->add_option("folder", *destination, "An empty or new folder")->required();
}

}  // namespace quarterturn::cli
