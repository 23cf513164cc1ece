#include <fmt/format.h>

#include "base/file.hpp"
#include "journal/clip_files.hpp"
#include "journal/entry_files.hpp"

namespace quarterturn::journal {
namespace {

namespace fs = std::filesystem;

Status check_destination(const fs::path& library, const fs::path& destination) {
    std::error_code failure;
    if (fs::exists(destination, failure) && !fs::is_empty(destination, failure))
        return Error{ErrorCode::conflict,
                     fmt::format("{} holds something already. Choose a folder that is empty or not "
                                 "there yet.",
                                 destination.string())};
    const fs::path inside =
        fs::weakly_canonical(destination, failure).lexically_relative(fs::canonical(library, failure));
    if (!inside.empty() && *inside.begin() != "..")
        return Error{ErrorCode::conflict, "A backup cannot lie inside the library itself. Choose another folder."};
    return ok();
}

/// Byte for byte, also documents this program cannot read.
Status copy_documents(const fs::path& from, const fs::path& to, BackupReport& report) {
    if (Status made = make_folder(to); !made) return made;
    for (const fs::path& path : documents_in(from)) {
        const auto bytes = read_file(path);
        if (!bytes) return bytes.error();
        if (Status written = write_file(to / path.filename(), *bytes); !written) return written;
        ++report.documents;
        report.bytes += bytes->size();
    }
    return ok();
}

Status copy_all_documents(const fs::path& from, const fs::path& to, BackupReport& report) {
    for (const char* part : {"journal", "journal/seasons", "journal/sessions", "journal/clips", "journal/notes",
                             "journal/marks", "journal/hold_corrections", "journal/pins", "rules"}) {
        if (Status copied = copy_documents(from / part, to / part, report); !copied) return copied;
    }
    return ok();
}

Finding left_out(const fs::path& path, const Clip& clip, const Error& error) {
    Trouble trouble = Trouble::unreadable;
    if (error.code == ErrorCode::not_found) trouble = Trouble::missing;
    if (error.code == ErrorCode::conflict) trouble = Trouble::changed;
    return {trouble, path, clip.id, {}, error.detail};
}

/// A full disk ends the backup; a film that is gone does not.
Status copy_film(const fs::path& from, const fs::path& to, Clip clip, const Hash& hash, BackupReport& report) {
    const fs::path path = clip_file(from, clip);
    const auto kept = copy_into_library(to, path, clip.fingerprint(), hash);
    if (!kept) {
        if (kept.error().code == ErrorCode::no_space) return kept.error();
        report.left_out.push_back(left_out(path, clip, kept.error()));
        return ok();
    }
    ++report.clips;
    report.bytes += clip.file_bytes;
    clip.path = *kept;  // where a film lies is no edit (docs/library_format.md)
    return save_entry(to, clip);
}

}  // namespace

Result<BackupReport> backup_library(const Store& store, const fs::path& destination, const Hash& hash,
                                    const std::function<void(std::size_t, std::size_t)>& progress) {
    const fs::path& from = store.folder();
    if (Status free = check_destination(from, destination); !free) return free.error();
    if (Status made = make_folder(destination); !made) return made.error();
    BackupReport report;
    Result<Library> library = Error{ErrorCode::io, {}};
    {
        // Nobody changes anything while the documents are copied. A library that is only for reading needs no lock.
        const auto held = FileLock::acquire(from / "lock");
        if (!held && held.error().code != ErrorCode::no_permission) return held.error();
        library = store.read();
        if (!library) return library.error();
        if (Status copied = copy_all_documents(from, destination, report); !copied) return copied.error();
    }
    for (std::size_t i = 0; i < library->clips.size(); ++i) {
        if (progress) progress(i, library->clips.size());
        if (Status copied = copy_film(from, destination, library->clips[i], hash, report); !copied)
            return copied.error();
    }
    if (progress) progress(library->clips.size(), library->clips.size());
    const auto facts = read_file(from / "library.json");
    if (!facts) return facts.error();
    if (Status written = write_file(destination / "library.json", *facts); !written) return written.error();
    ++report.documents;
    return report;
}

}  // namespace quarterturn::journal
