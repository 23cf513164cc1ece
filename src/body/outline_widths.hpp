#pragma once
/// How wide the outline of the body is at the shoulders, the waist and the hips of one picture, from the network's
/// mask.
///
/// Shoulders: outline with the arms that hang beside it, mean over the heights from the shoulder joints to 0.15
/// shoulder widths below. Waist: narrowest, hips: widest outline of the trunk alone, over five rows of the mask.
#include <string>

#include "body/landmark_series.hpp"
#include "body/torso_record.hpp"

namespace quarterturn::body {

/// Pixels, or why there is none.
struct OutlineWidth {
    std::optional<double> px;
    std::string reason;  ///< plain words; empty when there is a value
};

struct OutlineWidths {
    OutlineWidth shoulders, waist, hips;
};

/// @param body       landmarks of the same picture
/// @param height_px  how tall she would stand in it, > 0
[[nodiscard]] OutlineWidths outline_widths(const TorsoPicture& picture, const Body& body, double height_px);

}  // namespace quarterturn::body
