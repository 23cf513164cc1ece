#pragma once
/// Where the pelvis faces over time.
///
/// Single pictures are wrong now and then (in profile the network swaps left and right), but a body turns steadily: the
/// yaw is a hidden Markov chain of 72 directions, 5 degrees apart, told by facing_evidence() and by how fast people
/// turn. The most likely path (Viterbi 1967) gives the turns without jumps, and the mean of the posterior (forward and
/// backward pass; Rabiner 1989, Proc. IEEE 77:257) about that path gives the angle between the steps.
#include <optional>
#include <vector>

#include "body/course.hpp"

namespace quarterturn::body {

struct FacingSettings {
    /// Turning costs in proportion to the angle: so many degrees cost as much as evidence e times less likely.
    double easy_turn_deg = 5.0;
    double fastest_deg_per_s = 450;  ///< nobody turns faster
    double evidence_share = 0.5;     ///< signs in neighbouring pictures err together, so each counts for less
};

/// One entry per frame of the course; empty where nobody was seen.
struct FacingSeries {
    std::vector<std::optional<double>> yaw_deg;    ///< unwrapped through turns: may exceed 180; 0 is the first front
    std::vector<std::optional<double>> error_deg;  ///< one standard deviation of the posterior
};

[[nodiscard]] FacingSeries facing_of(const BodyCourse& course, const FacingSettings& settings = {});

}  // namespace quarterturn::body
