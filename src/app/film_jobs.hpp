#pragma once
/// The jobs of the program: each runs on a Jobs thread, touches no state, and posts news.
#include <filesystem>
#include <stop_token>
#include <string>
#include <vector>

#include "app/news.hpp"

namespace quarterturn::app {

using Progress = std::function<void(double)>;

/// The library as the window has it: the latest edits may not be on disk yet.
struct LibraryNow {
    std::filesystem::path folder;
    std::shared_ptr<const journal::Library> library;  ///< nullptr: none is open
};

/// Opens a film for looking; with a library also its rule set and its analysis from the cache.
/// @param fingerprint  empty: not known yet
void open_film(NewsBox& news, const std::filesystem::path& file, const std::string& fingerprint, const LibraryNow& now,
               const std::stop_token& stop);

/// Small stills of the pictures at `pts`.
void make_stills(NewsBox& news, const std::filesystem::path& file, const share::Upright& upright,
                 const std::vector<std::int64_t>& pts, const std::stop_token& stop);

/// Measures a clip (of the library where it is in one) and finds its landmarks for the overlays.
void measure(NewsBox& news, const std::filesystem::path& file, const std::string& fingerprint, const LibraryNow& now,
             const Progress& progress, const std::stop_token& stop);

/// What the cache has for a clip of the library as it is set now.
void look_up(NewsBox& news, const std::string& fingerprint, const LibraryNow& now);

/// Which clips have been measured.
void check_measured(NewsBox& news, const LibraryNow& now);

/// Adds films and the films in folders to a season. @return the fingerprints that are new
std::vector<std::string> add_films(NewsBox& news, const std::vector<std::filesystem::path>& files,
                                   const std::string& season, const std::filesystem::path& library_folder,
                                   const journal::Author& author, const Progress& progress,
                                   const std::stop_token& stop);

}  // namespace quarterturn::app
