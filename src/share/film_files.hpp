#pragma once
/// Film files as a person gives them: names, and folders full of them.
#include <filesystem>
#include <stop_token>
#include <vector>

#include "base/result.hpp"
#include "journal/camera_roll.hpp"
#include "journal/store.hpp"

namespace quarterturn::share {

/// The files named, and every file with a film's ending in the folders named and below, hidden ones left out; sorted.
/// @error not_found, no_permission
[[nodiscard]] Result<std::vector<std::filesystem::path>> film_files(const std::vector<std::filesystem::path>& given);

/// What the camera-roll rules need to know about one file; its fingerprint comes from the library's cache when the file
/// has not changed since.
/// @error as media::probe and media::fingerprint_of
[[nodiscard]] Result<journal::ClipFacts> clip_facts(const std::filesystem::path& file, const journal::Store& store,
                                                    std::stop_token stop);

}  // namespace quarterturn::share
