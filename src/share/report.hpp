#pragma once
/// The report of a session or a season: one HTML page that needs nothing beside itself (no script, no outside request,
/// pictures inside), and the same numbers as tables. Files are for their owner only (0600) and carry no date of making,
/// place or device.
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "journal/store.hpp"
#include "share/measure.hpp"
#include "share/season_view.hpp"
#include "share/session_view.hpp"

namespace quarterturn::share {

struct ReportOptions {
    std::filesystem::path out;  ///< the page; its folder must exist
    bool stills = true;         ///< pictures of the person inside the page
    int still_height = 480;     ///< rows, at most
    /// The landmarks a clip was measured with, for the lines over its stills; empty: stills without lines.
    std::function<std::optional<body::LandmarkSeries>(const journal::Clip&)> landmarks_of = {};
    bool tables = true;  ///< CSV files beside the page: <name of the page>-holds.csv and so on
};

struct ReportFiles {
    std::filesystem::path page;
    std::vector<std::filesystem::path> tables;
    std::vector<std::string> remarks;  ///< plain sentences: stills that could not be had, clips left out
};

struct SeasonsBeside;  // report_comparison.hpp

/// Where a clip's film is now. @error not_found
using FilmOf = std::function<Result<std::filesystem::path>(const journal::Clip&)>;

/// A session (id) or a season (id) of a library, with the analyses that are in its cache: nothing is measured here.
/// @error not_found: no such session or season; bad_input: neither or both are given; as rules::load_rule_set and
///        write_file
struct ReportRequest {
    std::string session;  ///< id; empty when a season is meant
    std::string season;   ///< id; empty when a session is meant
    ReportOptions options;
    MeasureSettings settings;  ///< which analyses to take from the cache
};
[[nodiscard]] Result<ReportFiles> write_report(const journal::Store& store, const ReportRequest& request);

/// The same from views that are there already. A session's page shows its season's charts, a season's page its latest
/// session pose by pose, where these are given (else nullptr).
/// @error as write_file
[[nodiscard]] Result<ReportFiles> write_session_report(const SessionView& view, const SeasonView* season,
                                                       const FilmOf& film_of, const ReportOptions& options);
[[nodiscard]] Result<ReportFiles> write_season_report(const SeasonView& view, const SessionView* latest,
                                                      const FilmOf& film_of, const ReportOptions& options,
                                                      const SeasonsBeside* beside = nullptr);

}  // namespace quarterturn::share
