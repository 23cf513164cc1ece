#pragma once
/// Mark sheets on disk: one file for each session and author, so that athlete and coach never write the same file. For
/// the store.
#include <filesystem>
#include <string>
#include <vector>

#include "journal/documents.hpp"
#include "journal/library.hpp"

namespace quarterturn::journal {

/// Empty when `session` is no id.
[[nodiscard]] std::filesystem::path mark_sheet_file(const std::filesystem::path& library, const std::string& session,
                                                    const Author& author);

/// An empty sheet when there is none yet.
[[nodiscard]] Result<MarkSheet> load_mark_sheet(const std::filesystem::path& library, const std::string& session,
                                                const Author& author);

[[nodiscard]] Status save_mark_sheet(const std::filesystem::path& library, const MarkSheet& sheet);

/// Marks of all sheets that can be read; those taken back are left out.
[[nodiscard]] std::vector<Mark> load_marks(const std::filesystem::path& library,
                                           std::vector<UnreadableDocument>& unreadable);

}  // namespace quarterturn::journal
