#pragma once
/// The two ways to measure, behind measure_film.
#include <filesystem>
#include <optional>

#include "base/result.hpp"
#include "body/clip_facts.hpp"
#include "body/course.hpp"
#include "body/landmark_series.hpp"
#include "body/torso_record.hpp"
#include "media/frame_index.hpp"
#include "posing/analyse.hpp"
#include "posing/analysis.hpp"
#include "share/measure.hpp"

namespace quarterturn::share {

/// Goes up whenever the same film would be measured differently; older cache entries are then computed again.
inline constexpr int measure_version = 11;

/// The method asked for, else landmarks when the model is there, else motion.
/// @error missing_part: landmarks asked for, and there is no model; says how to get it
[[nodiscard]] Result<posing::Method> method_for(const MeasureSettings& settings);

/// --model-dir, as body::load_models takes it.
[[nodiscard]] std::optional<std::filesystem::path> chosen_model_folder(const MeasureSettings& settings);

/// @error as body::load_models
[[nodiscard]] Result<body::Models> chosen_models(const MeasureSettings& settings);

/// For the keys of what is kept: where the athlete was shown; "" when she was not.
[[nodiscard]] std::string athlete_words(const FilmKnowledge& knowledge);

[[nodiscard]] posing::AnalyseSettings analyse_settings(const FilmKnowledge& knowledge);

/// What is known of a film before anybody is looked for in it.
struct FilmRead {
    body::ClipFacts clip;
    media::FrameIndex index;
    std::optional<double> bits_per_pixel;
    std::optional<int> rotation_deg;  ///< set by a person, as is the tilt
    std::optional<double> tilt_deg;
    std::optional<body::AthleteClick> athlete;
};
/// How strongly a film is compressed: its bits over the pixels of its pictures. Of more than 30 pictures a second 30
/// are counted: neighbours that are nearer in time tell each other more, so each needs fewer bits for the same detail.
/// Absent without pictures.
[[nodiscard]] std::optional<double> bits_per_pixel(const media::ClipInfo& info, const media::FrameIndex& index);

/// @error as media::probe, build_index and fingerprint_of
[[nodiscard]] Result<FilmRead> read_film(const std::filesystem::path& film, const FilmKnowledge& knowledge,
                                         const MeasureSettings& settings);

/// What looking at the pictures gave: all that posing needs of them, and all that takes long.
struct FilmSeen {
    body::LandmarkSeries series;
    std::vector<body::TorsoPicture> trunk;
    std::vector<body::Shake> shake = {};  ///< empty: the phone stood still
};
enum class Trunk { kept, not_needed };  ///< pictures of it cost a third more
/// @error as body::load_models and clip_landmarks
[[nodiscard]] Result<FilmSeen> look_at(const std::filesystem::path& film, const FilmRead& read,
                                       const MeasureSettings& settings, Trunk trunk_pictures = Trunk::kept);

/// The analysis of what was seen; takes no part of a second.
[[nodiscard]] posing::Analysis analyse_seen(const FilmRead& read, const FilmSeen& seen, const FilmKnowledge& knowledge);

/// The three above, one after the other. By landmarks; twist and sway from the pictures of the trunk seen on the way.
[[nodiscard]] Result<posing::Analysis> measure_landmarks(const std::filesystem::path& film,
                                                         const FilmKnowledge& knowledge,
                                                         const MeasureSettings& settings);

}  // namespace quarterturn::share
