/// quarterturn report: a session or a season as one page for any browser, and as tables.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "base/file.hpp"
#include "cli/context.hpp"
#include "cli/library_access.hpp"
#include "cli/measure_clips.hpp"
#include "cli/report_files.hpp"
#include "share/report.hpp"

namespace quarterturn::cli {
namespace {

struct ReportOptions {
    std::string session, season, out;
    bool no_stills = false, no_tables = false;
};

/// One report is about one session or one season; without either, the latest session.
Result<share::ReportRequest> request_for(const OpenLibrary& library, const ReportOptions& options) {
    share::ReportRequest request;
    std::string name;
    if (!options.season.empty()) {
        const auto season = find_season(library.now, options.season);
        if (!season) return season.error();
        request.season = season->id;
        name = "season-" + format_date(season->show_date);
    } else {
        const auto session = find_session(library.now, options.session);
        if (!session) return session.error();
        request.session = session->id;
        name = "session-" + format_date(session->date);
    }
    request.options.out = options.out;
    if (options.out.empty()) {
        const auto folder = library.store.folder() / "reports";
        if (Status made = make_folder(folder); !made) return made.error();
        request.options.out = folder / (name + ".html");
    }
    request.options.stills = !options.no_stills;
    request.options.tables = !options.no_tables;
    return request;
}

std::vector<const journal::Clip*> clips_for(const OpenLibrary& library, const share::ReportRequest& request) {
    std::vector<const journal::Clip*> clips;
    for (const auto& clip : library.now.clips) {
        const auto* session = library.now.find_session(clip.session);
        if (session != nullptr && (session->id == request.session || session->season == request.season))
            clips.push_back(&clip);
    }
    return clips;
}

Status report(Context& context, const ReportOptions& options) {
    auto library = open_library(context);
    if (!library) return library.error();
    auto request = request_for(*library, options);
    if (!request) return request.error();
    request->settings = context.measure_settings();
    const auto measured =
        measure_clips(library->store, library->now, clips_for(*library, *request), request->settings, 0);
    if (!measured) return measured.error();
    const auto files = share::write_report(library->store, *request);
    if (!files) return files.error();
    print_report_files(*files);
    for (const auto& sentence : measured->failures) fmt::print(stderr, "quarterturn: {}\n", sentence);
    if (!measured->failures.empty()) context.exit = ExitCode::problems_found;
    return ok();
}

}  // namespace

void print_report_files(const share::ReportFiles& files) {
    fmt::print("Report: {}\n", files.page.string());
    for (const auto& table : files.tables) fmt::print("Table:  {}\n", table.string());
    for (const auto& remark : files.remarks) fmt::print("Note: {}\n", remark);
}

void add_report(CLI::App& app, Context& context) {
    const auto options = std::make_shared<ReportOptions>();
    CLI::App* command =
        add_command(app, context, "report", "Write a session or a season as a page for any browser, with tables",
                    [&context, options] { return report(context, *options); });
    auto* session = command->add_option("--session", options->session, "Date or id (default: the latest)");
    command->add_option("--season", options->season, "Title, show date or id")->excludes(session);
    command->add_option("-o,--out", options->out, "The page (default: in the library's reports folder)");
    command->add_flag("--no-stills", options->no_stills, "Leave the pictures out");
    command->add_flag("--no-tables", options->no_tables, "Write no CSV files");
}

}  // namespace quarterturn::cli
