#pragma once
/// What one clip's analysis says: plain data, the contract `quarterturn.analysis` version 1
/// (docs/analysis.schema.json). A number that cannot be had is absent, with a reason where one can be given; it is
/// never 0.
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "body/clip_facts.hpp"

namespace quarterturn::posing {

/// A number or the reason why there is none.
struct Measured {
    std::optional<double> value;
    std::string reason;  ///< plain words; empty when there is a value
};

enum class SegmentKind { hold, transition, walk, pause };
enum class Method { motion, landmarks };
enum class PoseSource { none, body, order };  ///< none: not recognised, `pose` is empty

struct Sway {
    Measured rms, peak_to_peak;  ///< cm when Analysis::height_cm is known, else % of body height
    Measured dominant_hz;
    /// How far it went in all per second, cm or % of body height; absent: not looked for.
    std::optional<Measured> path_speed = std::nullopt;
    /// Slow movement from begin to end, swings taken off (drift_of): positive is to the right as the judges see it.
    /// Absent: not looked for.
    std::optional<Measured> drift = std::nullopt;
};

struct Twist {
    Measured absolute, range, rms;  ///< degrees
    /// As Sway::drift: positive when the shoulders turn on to the athlete's right.
    std::optional<Measured> drift = std::nullopt;
    /// Side views: how much the change told by the shoulders' separation differs from the one told by the skin, RMS
    /// without their means, degrees. A check of one by the other: beyond about 3 neither is to be trusted. Absent
    /// elsewhere.
    std::optional<Measured> shoulders_differ = std::nullopt;
};

/// Which of the two moves in a transition without a turn, from the lowest to the highest; never one blended number.
struct TrunkMovement {
    Measured twist_range;  ///< degrees
    Measured sway_range;   ///< of the hips, cm when Analysis::height_cm is known, else % of body height
};

/// Lengths in cm when Analysis::height_cm is known, else % of body height; see hands.hpp.
struct Hands {
    Measured height_difference, left_from_hip, right_from_hip, settling_s, fidget_rms;
};

/// Silhouette across the picture over body height, %; see silhouette_widths.hpp.
struct Widths {
    Measured shoulders, waist, hips;
    double error = 0;  ///< one standard deviation, % of body height
};

/// One automatic checklist item in one hold or transition.
struct Check {
    std::string item;  ///< id in the rule set's checklist
    Measured value;
    std::string unit;  ///< "deg", "cm", "s", "" ...
    std::optional<double> limit;
    std::optional<bool> met;  ///< absent when the value is
    bool published = false;   ///< the limit is a published rule (else common practice)
    double confidence = 0;    ///< 0..1
};

struct Segment {
    SegmentKind kind = SegmentKind::pause;
    std::int64_t start_pts = 0, end_pts = 0;  ///< in ClipFacts::time_base
    double start_s = 0, end_s = 0;            ///< true seconds from the clip's first picture
    double confidence = 1;                    ///< that the segment is what `kind` says, 0..1

    // hold
    std::optional<std::string> pose;  ///< pose id
    std::string pose_reason;          ///< why there is no pose
    double pose_confidence = 0;       ///< 0..1; at most 0.5 when guessed from the call order alone
    PoseSource pose_source = PoseSource::none;
    std::optional<std::string> side;  ///< "left" or "right", where the pose allows either
    Measured facing_deg;
    Twist twist;
    Sway sway;
    Measured stillness;              ///< body heights per second
    std::int64_t steadiest_pts = 0;  ///< the picture with least movement around it
    std::vector<Check> checks;
    std::optional<Hands> hands;    ///< absent: not looked for
    std::optional<Widths> widths;  ///< the same

    // transition
    Measured turn_deg;                   ///< to the athlete's right positive; may exceed 180: a full turn is 360
    std::optional<Measured> smoothness;  ///< spectral arc length, see smoothness.hpp; absent: not looked for
    std::optional<int> extra_steps;      ///< beyond two for each quarter turn, or two without a turn
    std::optional<TrunkMovement> trunk;  ///< absent: not looked for
    // transition and walk
    std::optional<int> steps;
    std::string steps_reason;  ///< why there are none
    // walk
    Measured cadence_per_min;
    std::optional<bool> stage;              ///< part of a stage walk; false: the way from or to the phone
    std::optional<Measured> step_evenness;  ///< spread of the step times over their mean, %; absent: not looked for
    std::optional<Measured> path;           ///< over the floor, m when the height is known, else body heights

    [[nodiscard]] double duration_s() const { return end_s - start_s; }
};

using ClipFacts = body::ClipFacts;

/// Curves over the clip; all as long as `t_s`, entries absent where not measurable. `sway_cm` holds % of body height
/// when Analysis::height_cm is unknown (the document then calls it `sway_pct`).
struct Signals {
    std::vector<double> t_s;
    std::vector<std::optional<double>> stillness, facing_deg, twist_deg, sway_cm;
};

/// The whole stage walk, from its first walk to its last.
struct StageWalk {
    struct Stop {
        double start_s = 0, end_s = 0;
    };
    double start_s = 0, end_s = 0;
    std::vector<Stop> stops;        ///< holds and pauses between the walks
    std::optional<double> limit_s;  ///< the rule set's for the whole walk
    std::optional<double> stop_limit_s;
};

struct Analysis {
    ClipFacts clip;
    Method method = Method::motion;
    std::optional<std::string> rule_set;
    std::optional<double> height_cm;
    std::vector<Segment> segments;  ///< ordered, never overlapping
    Signals signals;
    std::optional<StageWalk> stage_walk;
    std::optional<Measured> turn_evenness;   ///< spread of the quarter turns' durations over their mean, %
    std::optional<bool> mirrored_suggested;  ///< the turns go the other way than quarter turns do: swap left and right
};

}  // namespace quarterturn::posing
