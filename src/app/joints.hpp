#pragma once
/// Landmarks at a picture, and which notes belong on it.
#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

#include "app/state.hpp"
#include "body/region.hpp"

namespace quarterturn::app {

/// The landmarks measured nearest to `pts`, no further than a sixth of a second away; empty where there are none.
[[nodiscard]] std::vector<NamedSpot> joints_at(const OpenClip& clip, std::int64_t pts);

/// Pairs of joint names that a skeleton joins by a line.
[[nodiscard]] const std::vector<std::pair<std::string_view, std::string_view>>& bones();

/// Whether the note's moment (half a second to each side) or stretch is on screen at `pts`.
[[nodiscard]] bool note_is_on_screen(const OpenClip& clip, const journal::Note& note, std::int64_t pts);

/// Degrees by which the line from the athlete's right to left joint is tilted on screen: positive when the one on the
/// right of the picture is lower. Absent when one is not seen.
[[nodiscard]] std::optional<double> tilt_deg(const NamedSpot* a, const NamedSpot* b, double aspect);

/// Between the hips, pixels of the picture as shown; absent where they were not measured.
[[nodiscard]] std::optional<body::Point> hips_at(const OpenClip& clip, std::int64_t pts);

[[nodiscard]] const NamedSpot* find_joint(const std::vector<NamedSpot>& joints, std::string_view name);

}  // namespace quarterturn::app
