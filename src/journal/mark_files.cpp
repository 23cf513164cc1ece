#include "journal/mark_files.hpp"

#include <fmt/format.h>

#include <cstdint>

#include "journal/entry_files.hpp"

namespace quarterturn::journal {
namespace {

namespace fs = std::filesystem;

/// Stable and safe as a file name in any language: the role and a hash (FNV-1a) of the name.
std::string author_key(const Author& author) {
    std::uint64_t hash = 0xCBF29CE484222325ULL;
    for (const char c : author.name) hash = (hash ^ static_cast<std::uint8_t>(c)) * 0x100000001B3ULL;
    return fmt::format("{}-{:016x}", role_id(author.role), hash);
}

Error other_author(const fs::path& path) {
    return {ErrorCode::conflict,
            fmt::format("{} holds another author's marks than its name says; a folder sync may have "
                        "renamed it. Keep what you need from it, then delete it.",
                        path.string())};
}

}  // namespace

fs::path mark_sheet_file(const fs::path& library, const std::string& session, const Author& author) {
    const std::string stem = file_stem(session);
    return stem.empty() ? fs::path{} : library / "journal" / "marks" / (stem + "." + author_key(author) + ".json");
}

Result<MarkSheet> load_mark_sheet(const fs::path& library, const std::string& session, const Author& author) {
    const fs::path path = mark_sheet_file(library, session, author);
    if (path.empty()) return Error{ErrorCode::not_found, "There is no such session in the library."};
    const auto text = read_file(path, largest_document);
    if (!text && text.error().code == ErrorCode::not_found) return MarkSheet{session, author, {}, {}};
    if (!text) return text.error();
    auto sheet = read_mark_sheet(*text);
    if (!sheet) return at_document(path, sheet.error());
    if (sheet->session != session || sheet->author != author) return other_author(path);
    return sheet;
}

Status save_mark_sheet(const fs::path& library, const MarkSheet& sheet) {
    const std::string text = write_text(sheet);
    const auto again = read_mark_sheet(text);
    if (!again) return again.error();
    if (!(*again == sheet)) return Error{ErrorCode::bad_input, "A text is not UTF-8 or a number is out of range."};
    return write_file(mark_sheet_file(library, sheet.session, sheet.author), text);
}

std::vector<Mark> load_marks(const fs::path& library, std::vector<UnreadableDocument>& unreadable) {
    std::vector<Mark> marks;
    for (const fs::path& path : documents_in(library / "journal" / "marks")) {
        const auto text = read_file(path, largest_document);
        if (!text && text.error().code == ErrorCode::not_found) continue;
        const auto sheet = text ? read_mark_sheet(*text) : Result<MarkSheet>{text.error()};
        if (!sheet) {
            unreadable.push_back({path, at_document(path, sheet.error())});
        } else if (mark_sheet_file(library, sheet->session, sheet->author) != path) {
            unreadable.push_back({path, other_author(path)});
        } else {
            for (const Mark& mark : sheet->marks) {
                if (mark.value || mark.measured) marks.push_back(mark);
            }
        }
    }
    return marks;
}

}  // namespace quarterturn::journal
