#include "journal/library.hpp"

#include <algorithm>

namespace quarterturn::journal {
namespace {

template <class Entry>
const Entry* by_id(const std::vector<Entry>& entries, std::string_view id) {
    const auto found = std::find_if(entries.begin(), entries.end(), [&](const Entry& entry) { return entry.id == id; });
    return found == entries.end() ? nullptr : &*found;
}

template <class Entry, class Fits>
std::vector<const Entry*> those(const std::vector<Entry>& entries, Fits fits) {
    std::vector<const Entry*> found;
    for (const Entry& entry : entries) {
        if (fits(entry)) found.push_back(&entry);
    }
    return found;
}

}  // namespace

bool Session::date_is_guessed() const {
    return date_source == DateSource::file_name || date_source == DateSource::file_date;
}

std::optional<double> standing_height_cm(const Athlete& athlete, const Season& season, const Session& session) {
    const auto barefoot = season.barefoot_height_cm ? season.barefoot_height_cm : athlete.barefoot_height_cm;
    if (!barefoot) return std::nullopt;
    return *barefoot + session.heel_height_cm.value_or(0);
}

std::filesystem::path clip_file(const std::filesystem::path& library_folder, const Clip& clip) {
    return library_folder / clip.path;  // an absolute right side replaces the left
}

const Season* Library::find_season(std::string_view season) const {
    return by_id(seasons, season);
}
const Session* Library::find_session(std::string_view session) const {
    return by_id(sessions, session);
}
const Clip* Library::find_clip(std::string_view fingerprint) const {
    return by_id(clips, fingerprint);
}
const Note* Library::find_note(std::string_view note) const {
    return by_id(notes, note);
}

std::vector<const Session*> Library::sessions_of(std::string_view season) const {
    return those(sessions, [&](const Session& session) { return session.season == season; });
}

std::vector<const Clip*> Library::clips_of(std::string_view session) const {
    return those(clips, [&](const Clip& clip) { return clip.session == session; });
}

std::vector<const Note*> Library::notes_of_clip(std::string_view fingerprint) const {
    return those(notes, [&](const Note& note) { return note.clip && *note.clip == fingerprint; });
}

std::vector<const Note*> Library::notes_of_session(std::string_view session) const {
    return those(notes, [&](const Note& note) { return note.session == session; });
}

std::vector<HoldCorrection> Library::corrections_of(std::string_view fingerprint) const {
    std::vector<HoldCorrection> found;
    std::copy_if(hold_corrections.begin(), hold_corrections.end(), std::back_inserter(found),
                 [&](const HoldCorrection& correction) { return correction.clip == fingerprint; });
    return found;
}

}  // namespace quarterturn::journal
