#pragma once
/// The film files a library refers to: copying them in, finding them again, keeping them in a backup, checking them.
#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "journal/library.hpp"
#include "journal/store.hpp"

namespace quarterturn::journal {

/// Gives "sha256:..." of a file; journal opens no film, so the caller brings it.
using Hash = std::function<Result<std::string>(const std::filesystem::path&)>;

/// Copies a film into the library's clips folder (0600) and verifies the copy. By default films stay where they are.
/// @return the path to keep in Clip::path, relative to the library
/// @error conflict: the copy's fingerprint differs; not_found, no_permission, no_space, io
[[nodiscard]] Result<std::string> copy_into_library(const std::filesystem::path& library_folder,
                                                    const std::filesystem::path& file, const std::string& fingerprint,
                                                    const Hash& hash);

/// The clip's file: where it was, else (moved or renamed) the file with its size and fingerprint in one of `places`
/// (folders are searched with those below them) and in the library's clips folder.
/// @error not_found: the sentence says where it was
[[nodiscard]] Result<std::filesystem::path> find_clip_file(const std::filesystem::path& library_folder,
                                                           const Clip& clip,
                                                           std::span<const std::filesystem::path> places,
                                                           const Hash& hash);

enum class Trouble {
    missing,     ///< not where it was and not found elsewhere
    moved,       ///< found elsewhere; `found` says where
    changed,     ///< the file there has another fingerprint
    unreadable,  ///< the system refuses to read it, or a document cannot be understood
    newer,       ///< a document of a newer program
    dangling     ///< an entry refers to one that is not there
};

struct Finding {
    Trouble trouble = Trouble::missing;
    std::filesystem::path path;
    std::string clip;             ///< fingerprint, where it is about a clip
    std::filesystem::path found;  ///< moved: where it is now
    std::string what_to_do;       ///< one plain sentence
};

/// Looks at every document and hashes every film.
/// @param places  folders in which to look for moved films
[[nodiscard]] Result<std::vector<Finding>> check_library(const Store& store,
                                                         std::span<const std::filesystem::path> places,
                                                         const Hash& hash);

struct BackupReport {
    std::size_t documents = 0;
    std::size_t clips = 0;
    std::uint64_t bytes = 0;
    std::vector<Finding> left_out;  ///< films that could not be copied; the backup is complete when this is empty
};

/// Copies the library with its films to a folder that is empty or not there yet; every copied film is hashed again and
/// compared with its fingerprint. The copy is a library of its own, whose films lie inside it. It becomes one only at
/// the very end, so that a backup that was cut short is not mistaken for one.
/// @param progress  told the number of clips done and of all; may be empty
/// @error conflict: the folder holds something; no_permission, no_space, io
[[nodiscard]] Result<BackupReport> backup_library(const Store& store, const std::filesystem::path& destination,
                                                  const Hash& hash,
                                                  const std::function<void(std::size_t, std::size_t)>& progress = {});

}  // namespace quarterturn::journal
