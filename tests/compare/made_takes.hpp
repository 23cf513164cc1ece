#pragma once
/// Takes made from a script's exact truth, as the landmark network would see it (tests/posing/seen_landmarks.hpp).
#include "compare/take.hpp"
#include "truth.hpp"

namespace quarterturn::test {

struct MadeTake {
    sample::Script script;
    sample::Truth truth;
    compare::Take take;
};

/// sample_clips/scripts/<name>.json
[[nodiscard]] sample::Script shipped_script(const std::string& name);
/// @param seed      of the errors of seeing
/// @param unnoticed  nobody has said that the film is mirrored, where it is
[[nodiscard]] MadeTake made_take(const sample::Script& script, std::uint32_t seed = 7, bool unnoticed = false);

/// True points of the picture nearest to `t_s`, as a body in the picture, left and right as in the room.
[[nodiscard]] std::array<body::Point, body::landmark_count> true_points(const MadeTake& made, double t_s);

}  // namespace quarterturn::test
