#include <fmt/format.h>

#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"
#include "share/report.hpp"

namespace quarterturn::share {
namespace {

Result<ReportFiles> session_report(const journal::Store& store, const journal::Library& library,
                                   const ReportRequest& request, const AnalysisOf& analysis_of) {
    const journal::Session* session = library.find_session(request.session);
    const journal::Season* season = session != nullptr ? library.find_season(session->season) : nullptr;
    if (season == nullptr)
        return Error{ErrorCode::not_found,
                     fmt::format("There is no session {} here; `list` shows those there are.", request.session)};
    const Result<rules::RuleSet> rule_set = rule_set_of(store, *season);
    if (!rule_set) return rule_set.error();
    const Analyses analyses = analyses_of_session(library, session->id, analysis_of);
    const Result<SessionView> view = session_view(library, *rule_set, analyses, session->id);
    if (!view) return view.error();
    const FilmOf film_of = [&](const journal::Clip& clip) {
        return journal::find_clip_file(store.folder(), clip, {},
                                       [](const auto& path) { return media::fingerprint_of(path); });
    };
    return write_session_report(*view, film_of, request.options);
}

Result<ReportFiles> season_report(const journal::Store& store, const journal::Library& library,
                                  const ReportRequest& request, const AnalysisOf& analysis_of) {
    const journal::Season* season = library.find_season(request.season);
    if (season == nullptr)
        return Error{ErrorCode::not_found,
                     fmt::format("There is no season {} here; `list` shows those there are.", request.season)};
    const Result<rules::RuleSet> rule_set = rule_set_of(store, *season);
    if (!rule_set) return rule_set.error();
    const Analyses analyses = analyses_of_season(library, season->id, analysis_of);
    const Result<SeasonView> view = season_view(library, *rule_set, analyses, season->id);
    if (!view) return view.error();
    return write_season_report(*view, request.options);
}

}  // namespace

Result<ReportFiles> write_report(const journal::Store& store, const ReportRequest& request) {
    if (request.session.empty() == request.season.empty())
        return Error{ErrorCode::bad_input, "Say one of the two: a session or a season."};
    const Result<journal::Library> library = store.read();
    if (!library) return library.error();
    const AnalysisOf analysis_of = [&](const journal::Clip& clip) {
        return cached_analysis(store, *library, clip, request.settings);
    };
    return request.session.empty() ? season_report(store, *library, request, analysis_of)
                                   : session_report(store, *library, request, analysis_of);
}

}  // namespace quarterturn::share
