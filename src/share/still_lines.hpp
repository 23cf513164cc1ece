#pragma once
/// What is drawn over a still: the body's lines as they were measured, and a plumb line from between the ankles.
#include "body/landmark_series.hpp"
#include "journal/clip.hpp"
#include "share/film_stills.hpp"
#include "share/html.hpp"

namespace quarterturn::share {

/// An <svg> of the still's size; empty where nobody was seen within 0.1 s of the picture. Hidden joints are left out.
/// @param series  of the same clip, turned as the clip says (share::cached_landmarks)
[[nodiscard]] Html still_lines(const Still& still, std::int64_t pts, const body::LandmarkSeries& series,
                               const journal::Clip& clip);

}  // namespace quarterturn::share
