#pragma once
/// What a film shows of movement without knowing the body: how fast its fastest part moves, over time, and how far
/// apart two postures look. docs/measurement.md says how good that is.
#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <vector>

#include "base/result.hpp"
#include "body/athlete_place.hpp"
#include "body/clip_facts.hpp"
#include "body/posture_pictures.hpp"

namespace quarterturn::body {

struct MotionSettings {
    int threads = 0;                  ///< decoding threads; 0: one per core
    double rate_hz = 15;              ///< pictures measured per true second, or every one where the film has fewer
    int rows = 256;                   ///< of the reduced picture
    double smoothing_s = 0.2;         ///< without phase shift
    double time_scale = 1;            ///< true seconds per stored second, see ClipFacts
    bool mirrored = false;            ///< see ClipFacts
    std::optional<int> rotation_deg;  ///< how the film is to be turned, instead of what the file says
};

/// One entry per step from one measured picture to the next.
struct MotionSeries {
    std::vector<double> t_s;                   ///< middle of the step, true seconds from the first picture
    std::vector<std::optional<double>> speed;  ///< of the fastest part of the athlete, body heights per second
    std::vector<double> energy;                ///< mean change of a pixel above the sensor's noise, grey levels of 255
    std::vector<std::optional<double>> in_place;  ///< share of the movement at the place where she poses; absent: none
    std::optional<AthletePlace> place;            ///< absent when nothing moves in the film
    PosturePictures pictures;
    std::vector<std::int64_t> picture_pts;  ///< of every picture of the film, increasing

    /// Between the postures of two stretches of time, in body heights. Absent without a place.
    [[nodiscard]] std::optional<double> posture_change(double before_from_s, double before_to_s, double after_from_s,
                                                       double after_to_s) const;
};

struct ObservedMotion {
    ClipFacts clip;
    MotionSeries motion;
};

/// Share of the film that is done, 0..1; may be called often.
using Progress = std::function<void(double)>;

/// Reads the film once. Damaged or cut films give what can be read, with warnings in ClipFacts.
/// @error as media::probe; bad_input when not one picture can be read; cancelled
[[nodiscard]] Result<ObservedMotion> observe_motion(const std::filesystem::path& path,
                                                    const MotionSettings& settings = {}, std::stop_token stop = {},
                                                    const Progress& progress = {});

/// The second half of observe_motion, from what was recorded: for tests with made-up movement.
[[nodiscard]] MotionSeries summarise(const MotionRecord& record, PosturePictures pictures,
                                     std::vector<std::int64_t> picture_pts, double smoothing_s);

}  // namespace quarterturn::body
