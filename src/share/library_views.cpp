#include "share/library_views.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace quarterturn::share {
namespace {

AnalysisOf from_cache(const journal::Store& store, const journal::Library& library, const MeasureSettings& settings) {
    return [&](const journal::Clip& clip) { return cached_analysis(store, library, clip, settings); };
}

bool same_value(const journal::Mark& a, const journal::Mark& b) {
    return a.pose == b.pose && a.item == b.item && a.value == b.value && a.measured == b.measured && a.unit == b.unit &&
           a.clip == b.clip;
}

}  // namespace

Result<SessionView> view_of_session(const journal::Store& store, const journal::Library& library,
                                    const std::string& session, const MeasureSettings& settings) {
    const journal::Session* found = library.find_session(session);
    const journal::Season* season = found != nullptr ? library.find_season(found->season) : nullptr;
    if (season == nullptr) return Error{ErrorCode::not_found, fmt::format("There is no session {} here.", session)};
    const auto rule_set = rule_set_of(store, *season);
    if (!rule_set) return rule_set.error();
    const auto analyses = analyses_of_session(library, session, from_cache(store, library, settings));
    return session_view(library, *rule_set, analyses, session);
}

Result<SeasonView> view_of_season(const journal::Store& store, const journal::Library& library,
                                  const std::string& season, const MeasureSettings& settings) {
    const journal::Season* found = library.find_season(season);
    if (found == nullptr) return Error{ErrorCode::not_found, fmt::format("There is no season {} here.", season)};
    const auto rule_set = rule_set_of(store, *found);
    if (!rule_set) return rule_set.error();
    const auto analyses = analyses_of_season(library, season, from_cache(store, library, settings));
    return season_view(library, *rule_set, analyses, season);
}

Status keep_measured_marks(journal::Store& store, const std::string& session, const MeasureSettings& settings) {
    const auto library = store.read();
    if (!library) return library.error();
    const auto view = view_of_session(store, *library, session, settings);
    if (!view) return view.error();
    std::vector<journal::Mark> fresh = measured_marks(*view);
    std::erase_if(fresh, [&](const journal::Mark& mark) {
        return std::any_of(library->marks.begin(), library->marks.end(), [&](const journal::Mark& kept) {
            return kept.session == session && kept.author.role == journal::Role::program && same_value(kept, mark);
        });
    });
    return fresh.empty() ? ok() : store.set_marks(fresh);
}

}  // namespace quarterturn::share
