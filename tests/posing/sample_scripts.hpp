#pragma once
/// The scripts of the demo films and what is true of them, as the finder of holds sees it.
#include <filesystem>
#include <vector>

#include "hold_match.hpp"
#include "posing/joints.hpp"
#include "truth.hpp"

namespace quarterturn::test {

/// Scripts in sample_clips/scripts/<folder>, by name.
[[nodiscard]] std::vector<std::filesystem::path> scripts_in(const std::string& folder);

struct TrueFilm {
    sample::Script script;
    sample::Truth truth;
    posing::JointSeries joints;     ///< of every picture, body heights
    std::vector<TrueStill> stills;  ///< holds and pauses
};
[[nodiscard]] Result<TrueFilm> true_film(const std::filesystem::path& script);

}  // namespace quarterturn::test
