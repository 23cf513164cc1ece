#pragma once
/// What is true of a film before it is drawn: `quarterturn.truth` version 1, described in sample_clips/README.md.
#include <optional>
#include <string>
#include <vector>

#include "camera.hpp"
#include "timeline.hpp"

namespace quarterturn::sample {

struct TruePoint {
    Vec m;                      ///< world, metres
    double x_px = 0, y_px = 0;  ///< in the upright picture, mirrored where the film is
    bool in_picture = false;
};

struct TruePicture {
    std::int64_t pts = 0;  ///< 1/90000 s
    double t_s = 0;
    std::array<TruePoint, point_count> points;
    double pelvis_yaw_deg = 0;      ///< against the line of sight, unwrapped; 0 front, 90 left side to the judges
    double pelvis_turn_deg = 0;     ///< against the room, unwrapped: what a walk past the phone does not change
    double shoulder_yaw_deg = 0;    ///< the same for the shoulder line
    double pelvis_sideways_cm = 0;  ///< pelvis centre across the camera's view, from the athlete's place
};

enum class TrueKind { hold, transition, walk, pause };

struct TrueSegment {
    TrueKind kind = TrueKind::pause;
    double start_s = 0, end_s = 0;
    std::string pose;       ///< holds
    std::string side;       ///< side poses: side to the judges
    bool stage = false;     ///< walks: part of a stage walk; else from or to the phone
    double facing_deg = 0;  ///< holds and pauses: mean, in (-180, 180]
    double twist_deg = 0, twist_rms_deg = 0, twist_range_deg = 0;  ///< mean; about the mean; peak to peak
    double sway_rms_cm = 0, sway_peak_to_peak_cm = 0;
    double pelvis_yaw_range_deg = 0;
    std::optional<std::size_t> script_step;  ///< holds and pauses: rank in Script::steps
    double turn_deg = 0;                     ///< transitions and walks: positive to the athlete's right
    int steps = 0;                           ///< foot steps whose landing falls inside
    [[nodiscard]] double duration_s() const { return end_s - start_s; }
};

struct Truth {
    std::string name;
    double duration_s = 0;
    std::vector<TruePicture> pictures;
    std::vector<TrueSegment> segments;
    std::vector<FootStep> foot_steps;
};

/// Under a second for a film of a minute: nothing is drawn.
[[nodiscard]] Truth true_of(const Script& script);
/// Reads a script and computes. @error as load_script
[[nodiscard]] Result<Truth> load_truth(const std::filesystem::path& script);

/// The document; `whole` adds every picture with its 33 points.
[[nodiscard]] std::string write_truth(const Script& script, const Truth& truth, bool whole);

}  // namespace quarterturn::sample
