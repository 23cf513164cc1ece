#pragma once
/// A drawn film with its truth, read by the network once and kept in a folder, so that a second run costs only posing.
#include <filesystem>

#include "share/measure_method.hpp"
#include "truth.hpp"

namespace quarterturn::bench {

struct KeptFilm {
    std::filesystem::path path;
    sample::Script script;
    sample::Truth truth;
    share::FilmKnowledge knowledge;  ///< height with heels, mirroring and a fitting rule set
    share::FilmRead read;
    share::FilmSeen seen;
};

struct KeepSettings {
    std::filesystem::path folder;  ///< kept films; made when missing. Empty: nothing is kept
    bool fresh = false;            ///< read every film again and replace what was kept
    bool trunk = true;             ///< pictures of the trunk too (60 to 160 KB each); else twist and sway are absent
};

/// The routine is told by FILM.truth.json beside the film ("script") and looked for in sample_clips/scripts. The rule
/// set is the bundled one for the athlete's sex that asks for most of the routine's poses. Kept under fingerprint,
/// model, landmark version and trunk_pictures_version.
/// @error not_found: no truth beside it or no such script; as share::read_film and look_at
[[nodiscard]] Result<KeptFilm> kept_film(const std::filesystem::path& film, const KeepSettings& settings);

/// Count this up when TorsoPicture or TorsoRecord change, so that kept pictures are made again.
inline constexpr int trunk_pictures_version = 1;

[[nodiscard]] std::string save_shake(const std::vector<body::Shake>& shake);
/// @error bad_input: damaged
[[nodiscard]] Result<std::vector<body::Shake>> load_shake(std::string_view bytes);
[[nodiscard]] std::string save_trunk(const std::vector<body::TorsoPicture>& pictures);
/// @error bad_input: damaged
[[nodiscard]] Result<std::vector<body::TorsoPicture>> load_trunk(std::string_view bytes);

}  // namespace quarterturn::bench
