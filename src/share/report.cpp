#include "share/report.hpp"

#include <fmt/format.h>

#include "base/file.hpp"
#include "share/report_season.hpp"
#include "share/report_session.hpp"
#include "share/report_tables.hpp"
#include "share/still_lines.hpp"

namespace quarterturn::share {
namespace {

/// Clip by clip, because opening a film costs more than a picture of it.
PoseStills stills_of(const SessionView& view, const FilmOf& film_of, const ReportOptions& options,
                     std::vector<std::string>& remarks) {
    PoseStills stills;
    FilmStills films{film_of, options.still_height};
    for (std::size_t c = 0; c < view.clips.size(); ++c) {
        bool told = false;
        std::optional<std::optional<body::LandmarkSeries>> series;  // read when the clip's first still is made
        for (const PoseView& pose : view.poses) {
            if (!pose.steadiest || pose.steadiest->clip != c) continue;
            Result<Still> still = films.at(view.clips[c].clip, view.hold(*pose.steadiest).now.steadiest_pts);
            if (still && options.landmarks_of) {
                if (!series) series = options.landmarks_of(view.clips[c].clip);
                const std::int64_t pts = view.hold(*pose.steadiest).now.steadiest_pts;
                if (*series) still->lines = still_lines(*still, pts, **series, view.clips[c].clip).markup();
            }
            if (still) stills.emplace(pose.pose, std::move(still).value());
            if (!still && !told)
                remarks.push_back(fmt::format("No stills from {}: {}", view.clips[c].name, still.error().detail));
            told = told || !still;
        }
    }
    return stills;
}

Status write_table(const ReportOptions& options, const char* name, const std::string& text, ReportFiles& files) {
    std::filesystem::path path = options.out;
    path.replace_filename(options.out.stem().string() + "-" + name + ".csv");
    if (const Status written = write_file(path, text); !written) return written;
    files.tables.push_back(std::move(path));
    return ok();
}

}  // namespace

Result<ReportFiles> write_session_report(const SessionView& view, const SeasonView* season, const FilmOf& film_of,
                                         const ReportOptions& options) {
    ReportFiles files{.page = options.out, .tables = {}, .remarks = {}};
    const PoseStills stills = options.stills ? stills_of(view, film_of, options, files.remarks) : PoseStills{};
    if (const Status written = write_file(options.out, session_page(view, stills, season)); !written)
        return written.error();
    if (!options.tables) return files;
    const std::pair<const char*, std::string> tables[] = {
        {"holds", holds_table(view)}, {"checklist", checklist_records(view)}, {"notes", notes_table(view)}};
    for (const auto& [name, text] : tables) {
        if (const Status written = write_table(options, name, text, files); !written) return written.error();
    }
    return files;
}

Result<ReportFiles> write_season_report(const SeasonView& view, const SessionView* latest, const FilmOf& film_of,
                                        const ReportOptions& options, const SeasonsBeside* beside) {
    ReportFiles files{.page = options.out, .tables = {}, .remarks = {}};
    PoseStills stills;
    if (latest != nullptr && options.stills) stills = stills_of(*latest, film_of, options, files.remarks);
    if (const Status written = write_file(options.out, season_page(view, latest, stills, beside)); !written)
        return written.error();
    if (!options.tables) return files;
    if (const Status written = write_table(options, "sessions", sessions_table(view), files); !written)
        return written.error();
    return files;
}

}  // namespace quarterturn::share
