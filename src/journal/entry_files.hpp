#pragma once
/// One file per entry, below <library>/journal. For the store.
#include <algorithm>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "base/file.hpp"
#include "journal/documents.hpp"
#include "journal/library.hpp"

namespace quarterturn::journal {

/// Where entries of a type lie and what people call one.
template <class Entry>
struct Kind;
template <>
struct Kind<Athlete> {
    static constexpr std::string_view folder = "", noun = "athlete";
    static Result<Athlete> read(std::string_view text) { return read_athlete(text); }
};
template <>
struct Kind<Season> {
    static constexpr std::string_view folder = "seasons", noun = "season";
    static Result<Season> read(std::string_view text) { return read_season(text); }
};
template <>
struct Kind<Session> {
    static constexpr std::string_view folder = "sessions", noun = "session";
    static Result<Session> read(std::string_view text) { return read_session(text); }
};
template <>
struct Kind<Clip> {
    static constexpr std::string_view folder = "clips", noun = "clip";
    static Result<Clip> read(std::string_view text) { return read_clip(text); }
};
template <>
struct Kind<Note> {
    static constexpr std::string_view folder = "notes", noun = "note";
    static Result<Note> read(std::string_view text) { return read_note(text); }
};
template <>
struct Kind<HoldCorrection> {
    static constexpr std::string_view folder = "hold_corrections", noun = "correction";
    static Result<HoldCorrection> read(std::string_view text) { return read_hold_correction(text); }
};
template <>
struct Kind<Pin> {
    static constexpr std::string_view folder = "pins", noun = "pin";
    static Result<Pin> read(std::string_view text) { return read_pin(text); }
};

/// Largest document read.
inline constexpr std::uint64_t largest_document = 16U << 20U;

/// File name without ".json"; empty when `id` is no id, so that nothing outside the folder is ever named.
[[nodiscard]] std::string file_stem(std::string_view id);

/// The .json files of a folder, sorted by name; empty when there is no such folder.
[[nodiscard]] std::vector<std::filesystem::path> documents_in(const std::filesystem::path& folder);

/// The same error with the document's path before its sentence.
[[nodiscard]] Error at_document(const std::filesystem::path& path, const Error& error);

template <class Entry>
[[nodiscard]] std::filesystem::path entry_file(const std::filesystem::path& library, std::string_view id) {
    const std::string stem = file_stem(id);
    return stem.empty() ? std::filesystem::path{} : library / "journal" / Kind<Entry>::folder / (stem + ".json");
}

/// @error not_found when there is no such entry; what reading it says otherwise
template <class Entry>
[[nodiscard]] Result<Entry> load_entry(const std::filesystem::path& library, std::string_view id) {
    const std::filesystem::path path = entry_file<Entry>(library, id);
    const Error absent{ErrorCode::not_found, "There is no such " + std::string{Kind<Entry>::noun} + " in the library."};
    if (path.empty()) return absent;
    const auto text = read_file(path, largest_document);
    if (!text) return text.error().code == ErrorCode::not_found ? absent : text.error();
    auto entry = Kind<Entry>::read(*text);
    if (!entry) return at_document(path, entry.error());
    return entry;
}

/// All entries of a type that can be read, by id; the others go to `unreadable`.
template <class Entry>
[[nodiscard]] std::vector<Entry> load_entries(const std::filesystem::path& library, bool with_removed,
                                              std::vector<UnreadableDocument>& unreadable) {
    std::vector<Entry> entries;
    for (const auto& path : documents_in(library / "journal" / Kind<Entry>::folder)) {
        const auto text = read_file(path, largest_document);
        if (!text) {
            if (text.error().code != ErrorCode::not_found) unreadable.push_back({path, text.error()});
            continue;
        }
        auto entry = Kind<Entry>::read(*text);
        if (!entry) {
            unreadable.push_back({path, at_document(path, entry.error())});
        } else if (file_stem(entry->id) != path.stem()) {
            unreadable.push_back({path,
                                  {ErrorCode::conflict,
                                   path.string() + " is a second copy of another document; a folder sync may have left "
                                                   "it. Keep what you need from it, then delete it."}});
        } else if (with_removed || !entry->removed) {
            entries.push_back(*std::move(entry));
        }
    }
    return entries;
}

/// Writes an entry, after making sure that what is written reads back as the same.
/// @error bad_input: a field is out of its range or is not UTF-8
template <class Entry>
[[nodiscard]] Status save_entry(const std::filesystem::path& library, const Entry& entry) {
    const std::string text = write_text(entry);
    const auto again = Kind<Entry>::read(text);
    if (!again) return again.error();
    if (!(*again == entry)) return Error{ErrorCode::bad_input, "A text is not UTF-8 or a number is out of range."};
    return write_file(entry_file<Entry>(library, entry.id), text);
}

}  // namespace quarterturn::journal
