#include <fmt/format.h>

#include "journal/clip_files.hpp"
#include "media/fingerprint_of.hpp"
#include "share/library_views.hpp"
#include "share/report.hpp"
#include "share/report_comparison.hpp"

namespace quarterturn::share {

Result<ReportFiles> write_report(const journal::Store& store, const ReportRequest& request) {
    if (request.session.empty() == request.season.empty())
        return Error{ErrorCode::bad_input, "Say one of the two: a session or a season."};
    const auto library = store.read();
    if (!library) return library.error();
    const journal::Session* session = library->find_session(request.session);
    if (session == nullptr && request.season.empty())
        return Error{ErrorCode::not_found, fmt::format("There is no session {} here.", request.session)};
    const std::string season = session != nullptr ? session->season : request.season;
    const auto whole = view_of_season(store, *library, season, request.settings);
    if (!whole) return whole.error();
    const FilmOf film_of = [&](const journal::Clip& clip) {
        return journal::find_clip_file(store.folder(), clip, {},
                                       [](const auto& path) { return media::fingerprint_of(path); });
    };
    ReportOptions options = request.options;
    if (!options.landmarks_of)
        options.landmarks_of = [&](const journal::Clip& clip) {
            return cached_landmarks(store, *library, clip, request.settings);
        };
    if (session == nullptr && whole->sessions.empty()) return write_season_report(*whole, nullptr, film_of, options);
    const std::string shown = session != nullptr ? session->id : whole->sessions.back().session;
    const auto one = view_of_session(store, *library, shown, request.settings);
    if (!one) return one.error();
    if (session != nullptr) return write_session_report(*one, &*whole, film_of, options);
    const auto beside = seasons_beside(store, *library, *library->find_session(shown), request.settings,
                                       options.stills ? options.still_height : 0);
    auto files = write_season_report(*whole, &*one, film_of, options, beside ? &*beside : nullptr);
    if (files && beside) files->remarks.insert(files->remarks.end(), beside->remarks.begin(), beside->remarks.end());
    return files;
}

}  // namespace quarterturn::share
