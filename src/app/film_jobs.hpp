#pragma once
/// The jobs of the program: each runs on a Jobs thread, touches no state, and posts news.
#include <filesystem>
#include <stop_token>
#include <string>
#include <vector>

#include "app/news.hpp"

namespace quarterturn::app {

using Progress = std::function<void(double)>;

/// Opens a film for looking; with a library also its rule set and its analysis from the cache.
/// @param library_folder  empty: a bare film
void open_film(NewsBox& news, const std::filesystem::path& file, const std::string& fingerprint,
               const std::filesystem::path& library_folder, const std::stop_token& stop);

/// Small stills of the pictures at `pts`.
void make_stills(NewsBox& news, const std::filesystem::path& file, const std::vector<std::int64_t>& pts,
                 const std::stop_token& stop);

/// Measures a clip (of the library where it is in one) and finds its landmarks for the overlays.
void measure(NewsBox& news, const std::filesystem::path& file, const std::string& fingerprint,
             const std::filesystem::path& library_folder, const Progress& progress, const std::stop_token& stop);

/// Landmarks from the cache; nothing when they are not there.
void find_joints(NewsBox& news, const std::string& fingerprint, const std::filesystem::path& library_folder);

/// Adds films and the films in folders to a season. @return the fingerprints that are new
std::vector<std::string> add_films(NewsBox& news, const std::vector<std::filesystem::path>& files,
                                   const std::string& season, const std::filesystem::path& library_folder,
                                   const journal::Author& author, const Progress& progress,
                                   const std::stop_token& stop);

}  // namespace quarterturn::app
