#pragma once
/// Each kind of entry as the text of one JSON document (schemas in docs/). Reading checks every field, so what was read
/// can be trusted; unknown fields survive.
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

/// library.json: says that a folder is a library.
struct LibraryFacts {
    std::string id;
    std::string title;
    Instant created{};
    std::string extras;
    bool operator==(const LibraryFacts&) const = default;
};

/// All marks one author gave in one session.
struct MarkSheet {
    std::string session;
    Author author;
    std::vector<Mark> marks;  ///< by pose, then item; each at most once
    std::string extras;
    bool operator==(const MarkSheet&) const = default;
};

/// Every read_...: @error bad_input (the sentence names the place), newer_version
[[nodiscard]] Result<LibraryFacts> read_library_facts(std::string_view text);
[[nodiscard]] Result<Athlete> read_athlete(std::string_view text);
[[nodiscard]] Result<Season> read_season(std::string_view text);
[[nodiscard]] Result<Session> read_session(std::string_view text);
[[nodiscard]] Result<Clip> read_clip(std::string_view text);
[[nodiscard]] Result<Note> read_note(std::string_view text);
[[nodiscard]] Result<MarkSheet> read_mark_sheet(std::string_view text);
[[nodiscard]] Result<HoldCorrection> read_hold_correction(std::string_view text);
[[nodiscard]] Result<Pin> read_pin(std::string_view text);

/// Indented UTF-8, ending in a line feed.
[[nodiscard]] std::string write_text(const LibraryFacts& facts);
[[nodiscard]] std::string write_text(const Athlete& athlete);
[[nodiscard]] std::string write_text(const Season& season);
[[nodiscard]] std::string write_text(const Session& session);
[[nodiscard]] std::string write_text(const Clip& clip);
[[nodiscard]] std::string write_text(const Note& note);
[[nodiscard]] std::string write_text(const MarkSheet& sheet);
[[nodiscard]] std::string write_text(const HoldCorrection& correction);
[[nodiscard]] std::string write_text(const Pin& pin);

}  // namespace quarterturn::journal
