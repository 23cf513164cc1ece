#pragma once
/// The outline of a body as its landmarks give it, cheap enough to be drawn while a film plays.
#include <optional>
#include <utility>
#include <vector>

#include "body/course.hpp"
#include "body/region.hpp"

namespace quarterturn::app {

/// Landmarks between two looked-at pictures on a straight way; absent where nobody was seen within a fifth of a second.
[[nodiscard]] std::optional<body::CourseFrame> body_at(const body::BodyCourse& course, double at_s);

/// Line pieces around head, trunk and limbs, thick as limbs are against the body's height (proportions of segments:
/// common practice, no source). Pixels of the picture as shown. Hidden limbs are left out.
[[nodiscard]] std::vector<std::pair<body::Point, body::Point>> body_outline(const body::CourseFrame& body);

}  // namespace quarterturn::app
