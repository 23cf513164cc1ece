#include "cli/library_access.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

#include "rules/pose.hpp"
#include "share/measure.hpp"

namespace quarterturn::cli {
namespace {

constexpr std::size_t short_length = 8;

/// The one entry for which `fits` holds.
template <class Entry, class Fits>
Result<Entry> the_one(const std::vector<Entry>& entries, std::string_view what, std::string_view text, Fits fits) {
    const Entry* found = nullptr;
    for (const Entry& entry : entries) {
        if (!fits(entry)) continue;
        if (found != nullptr)
            return Error{ErrorCode::bad_input,
                         fmt::format("More than one {} fits \"{}\". Give more of its id.", what, text)};
        found = &entry;
    }
    if (found == nullptr)
        return Error{ErrorCode::not_found, fmt::format("There is no {} \"{}\" in this library.", what, text)};
    return *found;
}

bool id_fits(std::string_view id, std::string_view text) {
    return id == text || (text.size() >= short_length && id.ends_with(text));
}

Date today() {
    return std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now());
}

}  // namespace

std::string short_id(std::string_view id) {
    return std::string{id.size() > short_length ? id.substr(id.size() - short_length) : id};
}

Result<OpenLibrary> open_library(const Context& context) {
    auto store = journal::Store::open(context.library_folder());
    if (!store) {
        Error error = store.error();
        if (error.code == ErrorCode::not_found) error.detail += " `quarterturn create` makes one.";
        return error;
    }
    auto now = store->read();
    if (!now) return now.error();
    for (const auto& document : now->unreadable)
        fmt::print(stderr, "quarterturn: left out: {}\n", document.error.detail);
    journal::Author author{context.author.empty() ? now->athlete.name : context.author, journal::Role::athlete};
    if (!context.role.empty()) author.role = journal::find_role(context.role).value_or(journal::Role::athlete);
    return OpenLibrary{std::move(*store), std::move(*now), std::move(author)};
}

Result<journal::Season> find_season(const journal::Library& library, std::string_view text) {
    if (!text.empty())
        return the_one(library.seasons, "season", text, [&](const journal::Season& season) {
            return id_fits(season.id, text) || season.title == text || format_date(season.show_date) == text;
        });
    if (library.seasons.empty())
        return Error{ErrorCode::not_found, "There is no season yet. `quarterturn season start` begins one."};
    // Ordered by show date: the next show, or the last one when all are over.
    const auto next = std::find_if(library.seasons.begin(), library.seasons.end(),
                                   [](const journal::Season& season) { return season.show_date >= today(); });
    return next != library.seasons.end() ? *next : library.seasons.back();
}

Result<journal::Session> find_session(const journal::Library& library, std::string_view text) {
    if (!text.empty())
        return the_one(library.sessions, "session", text, [&](const journal::Session& session) {
            return id_fits(session.id, text) || format_date(session.date) == text;
        });
    if (library.sessions.empty())
        return Error{ErrorCode::not_found, "There is no session yet. `quarterturn add` brings clips in."};
    return library.sessions.back();
}

Result<journal::Clip> find_clip(const journal::Library& library, std::string_view text) {
    std::error_code ignored;
    const auto absolute = std::filesystem::absolute(text, ignored);
    return the_one(library.clips, "clip", text, [&](const journal::Clip& clip) {
        const std::string_view digits = std::string_view{clip.id}.substr(std::min<std::size_t>(7, clip.id.size()));
        return clip.id == text || (text.size() >= short_length && digits.starts_with(text)) ||
               clip.original_name == text || std::filesystem::path{clip.path} == absolute || clip.path == text;
    });
}

Status check_pose(const OpenLibrary& library, std::string_view session, const std::string& pose) {
    if (rules::find_pose(pose) != nullptr) return ok();
    const auto* day = library.now.find_session(std::string{session});
    const auto* season = day != nullptr ? library.now.find_season(day->season) : nullptr;
    if (season != nullptr) {
        const auto rule_set = share::rule_set_of(library.store, *season);
        if (!rule_set) return rule_set.error();
        if (rule_set->find_pose(pose) != nullptr) return ok();
    }
    return Error{ErrorCode::not_found, fmt::format("There is no pose \"{}\". `quarterturn rules show {}` lists them.",
                                                   pose, season != nullptr ? season->rule_set : "ID")};
}

Result<journal::Note> find_note(const journal::Library& library, std::string_view text) {
    return the_one(library.notes, "note", text, [&](const journal::Note& note) { return id_fits(note.id, text); });
}

}  // namespace quarterturn::cli
