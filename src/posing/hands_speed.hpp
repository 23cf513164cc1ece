#pragma once
/// Whether hands rest. Sway and twist carry the hands along with the head and the elbows with the shoulders, so each is
/// taken against what carries it.
#include <optional>

#include "body/course.hpp"
#include "posing/still_stretches.hpp"

namespace quarterturn::posing {

/// The faster hand's usual (median) speed against the head, body heights per second. Absent with too few pictures.
[[nodiscard]] std::optional<double> hands_speed(const body::BodyCourse& course, const Stretch& stretch);

/// The same of the elbows against the shoulders. Above 0.1 in a still stretch the network does not know where the arms
/// are (hands behind the head): no resting or busy arm does that.
[[nodiscard]] std::optional<double> elbows_speed(const body::BodyCourse& course, const Stretch& stretch);

}  // namespace quarterturn::posing
