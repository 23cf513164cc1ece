#pragma once
/// The exact outline of the figure: how wide it is across the picture at shoulders, waist and hips.
#include <optional>

#include "timeline.hpp"

namespace quarterturn::sample {

/// % of the standing height, heels included, as seen at the distance of the pelvis; absent outside front and back
/// views (15 degrees).
struct TrueWidths {
    std::optional<double>
        shoulders;                ///< with hanging arms, mean from the shoulder joints' height to 0.15 of their
                                  ///< distance below; absent where an upper arm is more than 35 degrees from hanging
    std::optional<double> waist;  ///< narrowest, without arms, from 0.35 to 0.85 of the way to the hip joints
    std::optional<double> hips;   ///< widest, without arms, from 0.85 to 1.2 of that way
};

/// Searches some hundred rows of rays: a few hundredths of a second.
[[nodiscard]] TrueWidths true_widths(const Timeline& timeline, double t_s);

}  // namespace quarterturn::sample
