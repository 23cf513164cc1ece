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
};

struct Twist {
    Measured absolute, range, rms;  ///< degrees
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

    // transition
    Measured turn_deg;
    // transition and walk
    std::optional<int> steps;
    std::string steps_reason;  ///< why there are none
    // walk
    Measured cadence_per_min;

    [[nodiscard]] double duration_s() const { return end_s - start_s; }
};

using ClipFacts = body::ClipFacts;

/// Curves over the clip; all as long as `t_s`, entries absent where not measurable. `sway_cm` holds % of body height
/// when Analysis::height_cm is unknown (the document then calls it `sway_pct`).
struct Signals {
    std::vector<double> t_s;
    std::vector<std::optional<double>> stillness, facing_deg, twist_deg, sway_cm;
};

struct Analysis {
    ClipFacts clip;
    Method method = Method::motion;
    std::optional<std::string> rule_set;
    std::optional<double> height_cm;
    std::vector<Segment> segments;  ///< ordered, never overlapping
    Signals signals;
};

}  // namespace quarterturn::posing
