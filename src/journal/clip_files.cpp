#include "journal/clip_files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>

#include "base/file.hpp"
#include "base/fingerprint.hpp"
#include "base/id.hpp"
#include "base/text.hpp"

namespace quarterturn::journal {
namespace {

namespace fs = std::filesystem;

/// Keeps the name readable and makes it the film's own, so that two films never want the same name.
std::string kept_name(const fs::path& file, const std::string& fingerprint) {
    const std::string hex = fingerprint.substr(fingerprint.find(':') + 1);
    const std::string stem = file.stem().string();
    const std::string extension = file.extension().string();
    constexpr std::size_t longest = 150;
    const bool usable =
        is_utf8(stem) && is_utf8(extension) && !stem.starts_with('.') && stem.size() < longest && extension.size() < 16;
    return usable ? fmt::format("{}.{}{}", stem, hex.substr(0, 8), extension) : hex;
}

/// Created 0600 before the first byte is in it, flushed before it counts as copied.
Status copy_bytes(const fs::path& from, const fs::path& to) {
    std::ifstream source{from, std::ios::binary};
    if (!source) return system_error(errno, "read", from);
    const int target = ::open(to.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (target < 0) return system_error(errno, "write", to);
    std::vector<char> block(1U << 20U);
    int failure = 0;
    while (failure == 0 && source) {
        source.read(block.data(), static_cast<std::streamsize>(block.size()));
        const char* next = block.data();
        for (std::streamsize left = source.gcount(); left > 0 && failure == 0;) {
            const ssize_t written = ::write(target, next, static_cast<std::size_t>(left));
            if (written < 0 && errno != EINTR) failure = errno;
            if (written > 0) {
                next += written;
                left -= written;
            }
        }
    }
    if (failure == 0 && source.bad()) failure = EIO;
    if (failure == 0 && ::fsync(target) != 0) failure = errno;
    if (::close(target) != 0 && failure == 0) failure = errno;
    return failure == 0 ? ok() : Status{system_error(failure, "copy", to)};
}

bool has_size(const fs::path& file, std::uint64_t bytes) {
    std::error_code failure;
    return fs::is_regular_file(file, failure) && (bytes == 0 || fs::file_size(file, failure) == bytes) && !failure;
}

/// The first file below `place` with the clip's size and fingerprint; empty when there is none.
fs::path search(const fs::path& place, const Clip& clip, const Hash& hash) {
    std::error_code failure;
    fs::recursive_directory_iterator entry{place, fs::directory_options::skip_permission_denied, failure};
    while (!failure && entry != fs::recursive_directory_iterator{}) {
        if (has_size(entry->path(), clip.file_bytes)) {
            const auto found = hash(entry->path());
            if (found && *found == clip.fingerprint()) return entry->path();
        }
        entry.increment(failure);
    }
    return {};
}

}  // namespace

Result<std::string> copy_into_library(const fs::path& library_folder, const fs::path& file,
                                      const std::string& fingerprint, const Hash& hash) {
    if (!is_fingerprint(fingerprint))
        return Error{ErrorCode::bad_input, fmt::format("\"{}\" is not a fingerprint.", fingerprint)};
    const std::string kept = "clips/" + kept_name(file, fingerprint);
    const fs::path target = library_folder / kept;
    if (const auto there = hash(target); there && *there == fingerprint) return kept;
    if (Status made = make_folder(target.parent_path()); !made) return made.error();
    const fs::path fresh = target.parent_path() / fmt::format(".{}.part", new_id());
    std::error_code failure;
    if (Status copied = copy_bytes(file, fresh); !copied) {
        fs::remove(fresh, failure);
        return copied.error();
    }
    const auto copy = hash(fresh);
    if (!copy || *copy != fingerprint) {
        fs::remove(fresh, failure);
        if (!copy) return copy.error();
        return Error{
            ErrorCode::conflict,
            fmt::format("{} is not the film it was: its content has changed. Add it as a new clip.", file.string())};
    }
    fs::rename(fresh, target, failure);
    if (failure) return system_error(failure.value(), "write", target);
    return kept;
}

Result<fs::path> find_clip_file(const fs::path& library_folder, const Clip& clip, std::span<const fs::path> places,
                                const Hash& hash) {
    const fs::path where_it_was = clip_file(library_folder, clip);
    if (has_size(where_it_was, clip.file_bytes)) return where_it_was;
    if (fs::path found = search(library_folder / "clips", clip, hash); !found.empty()) return found;
    for (const fs::path& place : places) {
        if (fs::path found = search(place, clip, hash); !found.empty()) return found;
    }
    return Error{ErrorCode::not_found,
                 fmt::format("The film {} is not at {} any more. Add it again from where it is now.",
                             clip.original_name, where_it_was.string())};
}

}  // namespace quarterturn::journal
