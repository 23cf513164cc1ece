#pragma once
/// What can be computed again, in a library's cache folder: it may be deleted at any time, and a broken or missing
/// entry is simply not there. Entries are opaque bytes.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace quarterturn::journal {

enum class CacheKind { analysis, frame_index, landmarks, still };

class Cache {
  public:
    explicit Cache(std::filesystem::path folder) : folder_(std::move(folder)) {}

    /// @param key  what the entry depends on beside the film's bytes (rule set, height, program version): letters,
    ///             digits, '-', '_' and '.', 1 to 120 characters, not starting with '.'
    [[nodiscard]] std::optional<std::string> read(CacheKind kind, std::string_view fingerprint,
                                                  std::string_view key) const;
    /// @error bad_input: not a fingerprint or a bad key; no_permission, no_space, io
    [[nodiscard]] Status write(CacheKind kind, std::string_view fingerprint, std::string_view key,
                               std::string_view bytes) const;
    /// Where the entry is or would be; empty for a bad fingerprint or key.
    [[nodiscard]] std::filesystem::path file(CacheKind kind, std::string_view fingerprint, std::string_view key) const;

    /// The keys under which something is kept for the film, in no order. Reads no entry.
    [[nodiscard]] std::vector<std::string> keys(CacheKind kind, std::string_view fingerprint) const;

    /// The fingerprint of a file that was hashed before and has kept its size, modification time and inode since.
    [[nodiscard]] std::optional<std::string> known_fingerprint(const std::filesystem::path& film) const;
    [[nodiscard]] Status remember_fingerprint(const std::filesystem::path& film, std::string_view fingerprint) const;

  private:
    std::filesystem::path folder_;
};

}  // namespace quarterturn::journal
