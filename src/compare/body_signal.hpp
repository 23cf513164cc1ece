#pragma once
/// The body's posture over time as numbers that do not depend on where and how large she stands in the picture: what
/// time warping compares.
#include <array>
#include <optional>
#include <vector>

#include "compare/take.hpp"

namespace quarterturn::compare {

/// For each pair of joints (shoulders, elbows, wrists, hips, knees, ankles): the middle across and down, and how far
/// they are apart across and down; then the direction of the pelvis as a point on a circle. Body heights from the
/// pelvis. Left and right are not told apart by the joints, because in profile they now and then change places.
inline constexpr std::size_t signal_count = 26;
using Posed = std::array<double, signal_count>;

struct BodySignal {
    double rate_hz = 0;
    double start_s = 0;
    std::vector<Posed> samples;  ///< at start_s + rank / rate_hz

    [[nodiscard]] double time_of(double rank) const { return start_s + rank / rate_hz; }
};

/// Between two times of a film, both included. Gaps of up to half a second are filled in by straight lines.
/// @return nullopt where nobody was seen for longer, or when the take has no landmarks
[[nodiscard]] std::optional<BodySignal> body_signal(const Take& take, double from_s, double to_s, double rate_hz = 30);

/// Distance of two samples, body heights (root of the summed squares).
[[nodiscard]] double distance(const Posed& a, const Posed& b);

}  // namespace quarterturn::compare
