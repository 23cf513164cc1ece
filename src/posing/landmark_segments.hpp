#pragma once
/// The clip as holds, pauses, transitions and walks, from the landmarks.
#include <vector>

#include "body/course.hpp"
#include "body/facing.hpp"
#include "posing/analyse.hpp"
#include "posing/floor_speed.hpp"
#include "posing/foot_steps.hpp"
#include "posing/pose_recognition.hpp"

namespace quarterturn::posing {

/// Everything the measures of a clip share.
struct LandmarkEvidence {
    body::BodyCourse course;
    body::FacingSeries facing;
    SpeedSeries speed;  ///< of the fastest main joint
    std::vector<FloorPlace> places;
    std::vector<FootSwing> swings;
};

struct LandmarkSegment {
    SegmentKind kind = SegmentKind::pause;
    Stretch bounds;
    Recognised label;        ///< holds and pauses
    PoseFeatures features;   ///< holds and pauses
    bool stage = false;      ///< walks: part of a stage walk, else from or to the phone
    bool fidgeting = false;  ///< a pause told by hands at the head, not by stillness
};

/// In order, never overlapping. Poses by the body, with the rule set's call order where there is one. Still stretches
/// are holds or pauses by their looks. Between them: walking; hands at the head for a second or more are a pause; the
/// rest is transition, or pause when it lasts longer than a transition can. Before the first and after the last still
/// stretch only walking counts. A walk with no hold before it, or none after it, is the way from or to the phone.
[[nodiscard]] std::vector<LandmarkSegment> landmark_segments(const LandmarkEvidence& seen,
                                                             const std::optional<rules::RuleSet>& rules,
                                                             const AnalyseSettings& settings);

}  // namespace quarterturn::posing
