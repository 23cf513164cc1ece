#pragma once
/// Landmarks for the overlays: from the library's cache, or looked for in the film.
#include <filesystem>
#include <memory>
#include <stop_token>
#include <string>

#include "app/state.hpp"
#include "journal/store.hpp"

namespace quarterturn::app {

/// A clip of a library with what the library knows about it.
struct KnownClip {
    journal::Store store;
    std::shared_ptr<const journal::Library> library;
    journal::Clip clip;
};
/// @param library  as the window has it: the latest edits may not be on disk yet. nullptr: none is open
/// @return absent where the library does not hold the clip
[[nodiscard]] std::optional<KnownClip> known_clip(const std::string& fingerprint,
                                                  const std::filesystem::path& library_folder,
                                                  const std::shared_ptr<const journal::Library>& library);

/// nullptr when there are none.
[[nodiscard]] std::shared_ptr<const JointTrack> cached_joints(const KnownClip& known);

/// From the cache, else from the film, and kept in the cache. nullptr without the model, or when stopped.
/// @param known  absent: a film outside a library
[[nodiscard]] std::shared_ptr<const JointTrack> measure_joints(const std::filesystem::path& file,
                                                               const std::optional<KnownClip>& known,
                                                               const std::stop_token& stop);

}  // namespace quarterturn::app
