#pragma once
#include <filesystem>
#include <stop_token>
#include <string>

#include "base/result.hpp"

namespace quarterturn::media {

/// "sha256:..." of the file's bytes (see base/fingerprint.hpp), about 400 MB/s.
/// @error not_found, no_permission, bad_input (a folder), io, cancelled
[[nodiscard]] Result<std::string> fingerprint_of(const std::filesystem::path& path, std::stop_token stop = {});

}  // namespace quarterturn::media
