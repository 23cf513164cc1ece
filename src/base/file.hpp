#pragma once
/// Reading and writing whole files so that nothing is ever half there. Films are near-nude pictures of a person, so
/// what the program writes is for its owner only: files 0600, folders 0700.
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace quarterturn {

/// The whole file.
/// @error not_found, no_permission, io; bad_input when it is a folder or larger than `limit` bytes
[[nodiscard]] Result<std::string> read_file(const std::filesystem::path& path, std::uint64_t limit = 256ULL << 20U);

/// Replaces `path` by `bytes` atomically and durably: a new file beside it, flushed to disk, renamed over it, folder
/// flushed. A reader sees the old or the new content, never a mixture; on failure the old file is as it was.
/// @error no_permission, no_space, not_found (no such folder), io
[[nodiscard]] Status write_file(const std::filesystem::path& path, std::string_view bytes);

/// Creates the folder and its missing parents, 0700. Existing folders are left as they are.
/// @error no_permission, no_space, conflict (a file is in the way), io
[[nodiscard]] Status make_folder(const std::filesystem::path& path);

/// Holds an advisory lock on a file (created when missing) until destroyed; waits for another holder, in this program
/// or another one on the same machine.
class FileLock {
  public:
    /// @error no_permission, not_found (no such folder), io
    [[nodiscard]] static Result<FileLock> acquire(const std::filesystem::path& path);
    FileLock(FileLock&& other) noexcept;
    FileLock& operator=(FileLock&& other) noexcept;
    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;
    ~FileLock();

  private:
    explicit FileLock(int descriptor) : descriptor_(descriptor) {}
    int descriptor_ = -1;
};

/// The Error for a failed system call on `path`, from errno.
[[nodiscard]] Error system_error(int error_number, std::string_view action, const std::filesystem::path& path);

}  // namespace quarterturn
