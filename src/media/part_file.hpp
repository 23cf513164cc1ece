#pragma once
/// A file that is written beside its final name and appears under it only when complete. Private to this room.
#include <filesystem>

#include "base/result.hpp"

namespace quarterturn::media {

class PartFile {
  public:
    /// Creates an empty hidden file for the owner only (0600) in the folder of `path`.
    /// @error no_permission, not_found (no such folder), no_space, io
    [[nodiscard]] static Result<PartFile> create(const std::filesystem::path& path);
    PartFile(PartFile&& other) noexcept;
    PartFile& operator=(PartFile&& other) noexcept;
    /// Removes the part file unless it was published.
    ~PartFile();

    [[nodiscard]] const std::filesystem::path& part() const { return part_; }
    [[nodiscard]] const std::filesystem::path& final_path() const { return final_; }
    /// Flushes to disk and renames to the final name, replacing what is there.
    [[nodiscard]] Status publish();

  private:
    PartFile(std::filesystem::path part, std::filesystem::path final_path)
        : part_(std::move(part)), final_(std::move(final_path)) {}
    std::filesystem::path part_;  ///< empty: nothing to remove
    std::filesystem::path final_;
};

}  // namespace quarterturn::media
