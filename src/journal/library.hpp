#pragma once
/// A library as it was at one moment: everything people wrote, as plain data.
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "journal/clip.hpp"
#include "journal/hold_correction.hpp"
#include "journal/mark.hpp"
#include "journal/note.hpp"
#include "journal/pin.hpp"
#include "journal/season.hpp"

namespace quarterturn::journal {

/// A document that could not be read; the rest of the library is there nevertheless.
struct UnreadableDocument {
    std::filesystem::path path;
    Error error;
};

/// Entries that were removed are left out, unless asked for. Lists are ordered by id, which is the order of making;
/// seasons by show date, sessions by date.
struct Library {
    std::string id;  ///< of the library; copies keep it
    std::string title;
    Athlete athlete;
    std::vector<Season> seasons;
    std::vector<Session> sessions;
    std::vector<Clip> clips;  ///< by recording time where known, then by file name
    std::vector<Note> notes;
    std::vector<Mark> marks;
    std::vector<HoldCorrection> hold_corrections;
    std::vector<Pin> pins;
    std::vector<UnreadableDocument> unreadable;

    [[nodiscard]] const Season* find_season(std::string_view season) const;
    [[nodiscard]] const Session* find_session(std::string_view session) const;
    [[nodiscard]] const Clip* find_clip(std::string_view fingerprint) const;
    [[nodiscard]] const Note* find_note(std::string_view note) const;
    [[nodiscard]] std::vector<const Session*> sessions_of(std::string_view season) const;
    [[nodiscard]] std::vector<const Clip*> clips_of(std::string_view session) const;
    [[nodiscard]] std::vector<const Note*> notes_of_clip(std::string_view fingerprint) const;
    [[nodiscard]] std::vector<const Note*> notes_of_session(std::string_view session) const;
    [[nodiscard]] std::vector<HoldCorrection> corrections_of(std::string_view fingerprint) const;
};

}  // namespace quarterturn::journal
