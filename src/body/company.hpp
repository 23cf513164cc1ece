#pragma once
/// Somebody else so near the athlete in the picture that the network mixes the two bodies.
#include <span>
#include <vector>

#include "body/athlete_choice.hpp"
#include "body/landmark_series.hpp"

namespace quarterturn::body {

/// Longer company is somebody who stays (a training partner, a mirror): nothing better is known then, nothing is
/// marked.
inline constexpr double longest_company_s = 3.0;

/// Sets LandmarkFrame::company where another body passes within 0.26 of the region's side of the athlete's across the
/// picture: between the looks of the detector, which takes two bodies that overlap for one, his way is straight, and it
/// goes on for up to 1.5 s before and after he was seen.
/// @param frames     by time
/// @param sightings  by time
void mark_company(std::vector<LandmarkFrame>& frames, std::span<const Sighting> sightings);

}  // namespace quarterturn::body
