#pragma once
/// The jobs behind the page with two takes: each runs on a Jobs thread, touches no state, and posts news.
#include "app/film_jobs.hpp"
#include "app/news.hpp"

namespace quarterturn::app {

/// Measures what is missing of both sides and compares them; posts PairCompared.
/// @param library  as the person sees it, edits that are not saved yet included
void compare_sides(NewsBox& news, const Request::Compare& request, const journal::Library& library,
                   const std::filesystem::path& library_folder, const Progress& progress, const std::stop_token& stop);

/// Opens both films for playing and lays their times over each other; posts PairFilmsOpened.
void open_pair_films(NewsBox& news, const Request::OpenPairFilms& request, const journal::Library& library,
                     const std::stop_token& stop);

/// How the earlier picture's light differs from the later one's in the stills of a pair; posts LightMatched.
void match_pair_light(NewsBox& news, const Request::MatchLight& request, const std::stop_token& stop);

}  // namespace quarterturn::app
