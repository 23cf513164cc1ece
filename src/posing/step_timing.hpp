#pragma once
/// When a foot is half way through its step, told more finely than the pictures are apart.
///
/// A step is taken as a smooth movement from rest to rest with a lift on top that is the same rising and falling:
///
///     x(t) = x0 + dx g(s(u))               u = (t - middle) / length + 1/2, held within 0..1
///     y(t) = y0 + dy g(s(u)) + ly b(u)     s(u) = 10 u^3 - 15 u^4 + 6 u^5,  b(u) = 16 u^2 (1 - u)^2
///     g(s) = s / (q + (1 - q) s)           q: how much nearer to the phone it ends than it begins
///
/// with s the movement of least jerk (Flash and Hogan 1985, J Neurosci 5:1688; from memory) and g what a straight way
/// at even pace looks like when it comes nearer (perspective: the places on it are the same function of s in x and y).
/// q is told by how tall the body looks half a stride before and after. Without g the long steps towards the phone
/// would come out later than the short ones that begin and end a walk; without the lift all of them would.
///
/// All middles and lengths near the first guess are tried; each counts by its likelihood under errors with heavy tails,
/// as the network takes one foot for the other for a picture or three when they pass; the middle is the mean of
/// those near the best.
#include <optional>
#include <vector>

#include "posing/foot_places.hpp"

namespace quarterturn::posing {

/// How long steps are expected to take: as far as is known, and how much they differ (one standard deviation).
struct UsualLength {
    double length_s = 0.46, spread_s = 0.06;
};

struct StepTime {
    double middle_s = 0, length_s = 0;
    double error_s = 0;  ///< of the middle, one standard deviation, if the feet are seen as well as usual
};

/// @param about_s  a guess of the middle, good to 0.1 s
/// @return absent where there are too few pictures around it
[[nodiscard]] std::optional<StepTime> step_time(const std::vector<FootPlace>& places, double about_s,
                                                const UsualLength& usual = {});

}  // namespace quarterturn::posing
