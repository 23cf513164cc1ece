#include <fmt/format.h>

#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"
#include "share/report.hpp"

namespace quarterturn::share {
namespace {

Error not_there(const char* what, const std::string& id) {
    return {ErrorCode::not_found, fmt::format("There is no {} {} here; `list` shows those there are.", what, id)};
}

}  // namespace

Result<ReportFiles> write_report(const journal::Store& store, const ReportRequest& request) {
    if (request.session.empty() == request.season.empty())
        return Error{ErrorCode::bad_input, "Say one of the two: a session or a season."};
    const Result<journal::Library> library = store.read();
    if (!library) return library.error();
    const journal::Session* session = library->find_session(request.session);
    if (session == nullptr && request.season.empty()) return not_there("session", request.session);
    const journal::Season* season = library->find_season(session != nullptr ? session->season : request.season);
    if (season == nullptr) return not_there("season", session != nullptr ? session->season : request.season);
    const Result<rules::RuleSet> rule_set = rule_set_of(store, *season);
    if (!rule_set) return rule_set.error();
    const Analyses analyses = analyses_of_season(*library, season->id, [&](const journal::Clip& clip) {
        return cached_analysis(store, *library, clip, request.settings);
    });
    const Result<SeasonView> whole = season_view(*library, *rule_set, analyses, season->id);
    if (!whole) return whole.error();
    const FilmOf film_of = [&](const journal::Clip& clip) {
        return journal::find_clip_file(store.folder(), clip, {},
                                       [](const auto& path) { return media::fingerprint_of(path); });
    };
    if (session == nullptr && whole->sessions.empty())
        return write_season_report(*whole, nullptr, film_of, request.options);
    const std::string shown = session != nullptr ? session->id : whole->sessions.back().session;
    const Result<SessionView> one = session_view(*library, *rule_set, analyses, shown);
    if (!one) return one.error();
    return session != nullptr ? write_session_report(*one, &*whole, film_of, request.options)
                              : write_season_report(*whole, &*one, film_of, request.options);
}

}  // namespace quarterturn::share
