#pragma once
/// Landmarks for the overlays: from the library's cache, or looked for in the film.
#include <filesystem>
#include <memory>
#include <stop_token>
#include <string>

#include "app/state.hpp"

namespace quarterturn::app {

/// nullptr when there are none, or no library.
[[nodiscard]] std::shared_ptr<const JointTrack> cached_joints(const std::string& fingerprint,
                                                              const std::filesystem::path& library_folder);

/// From the cache, else from the film, and kept in the cache. nullptr without the model, or when stopped.
[[nodiscard]] std::shared_ptr<const JointTrack> measure_joints(const std::filesystem::path& file,
                                                               const std::string& fingerprint,
                                                               const std::filesystem::path& library_folder,
                                                               const std::stop_token& stop);

}  // namespace quarterturn::app
