#pragma once
/// A routine as a file: `quarterturn.script` version 1, described in sample_clips/README.md. Read strictly.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "body.hpp"
#include "poses.hpp"

namespace quarterturn::sample {

struct CameraSetup {
    double distance_m = 3.6;  ///< from the athlete's place to the phone, along the floor
    double height_m = 1.1;    ///< of the phone above the floor
    double sideways_m = 0;    ///< phone to the right of the place (as the phone sees it)
    double aim_height_m = 0.92;
    double roll_deg = 0;
    double field_deg = 40;  ///< vertical field of view
    double shake_px = 0;    ///< RMS wander of the picture, pixels of a 768-row film
    bool mirrored = false;  ///< as a front camera stores it
};

struct Spectator {
    double at_s = 0;        ///< when he enters the picture
    bool to_left = true;    ///< walking direction in the picture
    double behind_m = 0.8;  ///< path behind the athlete's place; negative: between her and the phone
};

struct RoomSetup {
    bool clutter = false;
    double wall_m = 1.5;  ///< wall behind the place
    std::optional<Spectator> spectator;
};

struct FilmSetup {
    int width = 432, height = 768;  ///< shown upright
    double rate = 30;
    double jitter = 0;     ///< variable rate: picture distances vary by up to this share, some are doubled
    int rotation_deg = 0;  ///< display rotation stored in the file; the stored picture lies on its side
    int quality = 26;      ///< constant rate factor
    double noise = 1.6;    ///< sensor noise, RMS of 255
    bool motion_blur = false;
    double exposure_drift = 0;  ///< slow brightness change, share
    bool sound = false;         ///< a beep at each call-out
    std::optional<Instant> recorded_at;
};

struct NaturalMotion {
    double sway_cm = 0.10;   ///< RMS of the sway nobody can switch off
    double breath_mm = 2.0;  ///< chest, front to back
};

enum class Wobble { sway, twist, turn, lean, tremor, drift_arm, fidget_hand, breath };

/// One planted movement inside a hold; it starts and ends softly within the hold.
struct Disturbance {
    Wobble kind = Wobble::sway;
    double size =
        0;  ///< amplitude (half of peak to peak): cm for sway and fidget_hand, mm for tremor and breath, else degrees
    double hz = 0.5;  ///< unused by drift_arm
    int arm = 0;      ///< 0 left, 1 right, 2 both
};

enum class StepKind { walk_in, walk_out, walk, pose, stand, fix_hair };

struct Step {
    StepKind kind = StepKind::pose;
    PoseChoice pose;                      ///< pose, stand and fix_hair
    double hold_s = 5;                    ///< from the end of the movement into it to the start of the next movement
    std::optional<double> move_s;         ///< length of the movement into it; default by the number of foot steps
    std::optional<int> turn_steps;        ///< foot steps used for the turn; default two per quarter
    std::optional<bool> turn_right;       ///< default: the shorter way, to the right for a half turn
    double to_x = 0, to_z = 0;            ///< walk: target on the floor, metres
    double cadence = 108, step_m = 0.58;  ///< walk: steps per minute, step length
    bool stage = false;                   ///< walk: part of a stage walk
    std::vector<Disturbance> disturb;
};

struct Script {
    std::string name;
    std::uint32_t seed = 1;
    BodyShape body;
    CameraSetup camera;
    RoomSetup room;
    FilmSetup film;
    NaturalMotion natural;
    std::vector<Step> steps;
};

/// @error bad_input: not such a document; the sentence names the place. newer_version
[[nodiscard]] Result<Script> parse_script(std::string_view text);
/// The same from a file; the name is the file's stem when the document has none.
[[nodiscard]] Result<Script> load_script(const std::filesystem::path& path);

}  // namespace quarterturn::sample
