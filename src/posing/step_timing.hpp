#pragma once
/// When a foot is half way through its step, told more finely than the pictures are apart.
///
/// A step is taken as a smooth movement from rest to rest with a lift on top that is the same rising and falling:
///
///     x(t) = x0 + dx s(u)                  u = (t - middle) / length + 1/2, held within 0..1
///     y(t) = y0 + dy s(u) + ly b(u)        s(u) = 10 u^3 - 15 u^4 + 6 u^5,  b(u) = 16 u^2 (1 - u)^2
///
/// with s the movement of least jerk (Flash and Hogan 1985, J Neurosci 5:1688; from memory). Of all middles and lengths
/// near the first guess the one is taken that leaves least of the movement unexplained. Without the lift a step towards
/// the phone would come out late and one away from it early: there the lift is half of what the picture shows.
#include <optional>

#include "body/course.hpp"

namespace quarterturn::posing {

enum class Foot { left, right };

/// @param about_s  a guess, good to 0.1 s
/// @return seconds; absent where there are too few pictures around it
[[nodiscard]] std::optional<double> step_middle(const body::BodyCourse& course, Foot foot, double about_s);

}  // namespace quarterturn::posing
