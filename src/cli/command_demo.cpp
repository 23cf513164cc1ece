/// quarterturn demo: the invented seasons as a library, measured, with reports.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "base/file.hpp"
#include "base/places.hpp"
#include "cli/context.hpp"
#include "cli/measure_clips.hpp"
#include "cli/report_files.hpp"
#include "cli/table.hpp"
#include "share/demo_library.hpp"
#include "share/library_views.hpp"

namespace quarterturn::cli {
namespace {

std::string weeks_text(int days_out) {
    return fmt::format("{} wk", days_out / 7);
}

/// Longest hold of each pose in each session, against the goal.
std::string season_table(const share::SeasonView& view) {
    Table table{{"longest hold, seconds", "goal"}, {}, {false, true}};
    for (const auto& session : view.sessions) {
        table.head.push_back(format_date(session.date) + ", " + weeks_text(session.days_out));
        table.right.push_back(true);
    }
    for (std::size_t i = 0; i < view.poses.size(); ++i) {
        std::vector<std::string> row{view.poses[i].title, fmt::format("{:.0f}", view.poses[i].target_hold_s)};
        for (const auto& session : view.sessions) {
            const auto& hold = session.poses[i].hold_s;
            row.push_back(hold ? fmt::format("{:.1f}", *hold) : "-");
        }
        table.rows.push_back(std::move(row));
    }
    std::vector<std::string> score{"score by the coach", ""};
    for (const auto& session : view.sessions)
        score.push_back(session.coach.score.percent ? fmt::format("{:.0f} %", *session.coach.score.percent) : "-");
    table.rows.push_back(std::move(score));
    return format_table(table);
}

Status write_reports(const journal::Store& store, const journal::Library& library,
                     const share::MeasureSettings& settings) {
    const auto folder = store.folder() / "reports";
    if (Status made = make_folder(folder); !made) return made;
    std::vector<share::ReportRequest> requests;
    for (const auto& season : library.seasons) {
        const auto sessions = library.sessions_of(season.id);
        if (sessions.empty()) continue;
        requests.push_back({"", season.id, {}, settings});
        requests.back().options.out = folder / fmt::format("season-{}.html", format_date(season.show_date));
        requests.push_back({sessions.back()->id, "", {}, settings});
        requests.back().options.out = folder / fmt::format("session-{}.html", format_date(sessions.back()->date));
    }
    for (const auto& request : requests) {
        const auto files = share::write_report(store, request);
        if (!files) return files.error();
        print_report_files(*files);
    }
    return ok();
}

Status demo(Context& context, const std::string& given) {
    const std::filesystem::path folder =
        given.empty() ? default_library_folder().parent_path() / "demo" : std::filesystem::path{given};
    auto store = share::demo_library(folder, share::sample_clips_folder(), context.stop);
    if (!store) return store.error();
    auto library = store->read();
    if (!library) return library.error();
    const share::MeasureSettings settings = context.measure_settings();
    std::vector<const journal::Clip*> clips;
    for (const auto& clip : library->clips) clips.push_back(&clip);
    say_if_model_is_missing(settings);
    fmt::print("Measuring {} clips ...\n", clips.size());
    std::fflush(stdout);
    const auto measured = measure_clips(*store, *library, clips, settings, 0);
    if (!measured) return measured.error();
    for (const auto& season : library->seasons) {
        const auto view = share::view_of_season(*store, *library, season.id, settings);
        if (!view) return view.error();
        fmt::print("\n{}, show on {}\n{}", season.title, format_date(season.show_date), season_table(*view));
    }
    fmt::print("\nThe library: {}\n", folder.string());
    if (Status written = write_reports(*store, *library, settings); !written) return written;
    for (const auto& sentence : measured->failures) fmt::print(stderr, "quarterturn: {}\n", sentence);
    if (!measured->failures.empty()) context.exit = ExitCode::problems_found;
    return ok();
}

}  // namespace

void add_demo(CLI::App& app, Context& context) {
    const auto folder = std::make_shared<std::string>();
    add_command(app, context, "demo", "Make a library of the invented demo seasons, measure it and write reports",
                [&context, folder] { return demo(context, *folder); })
        ->add_option("folder", *folder, "Where (default: demo in your data folder)");
}

}  // namespace quarterturn::cli
