#pragma once
/// A posture: how every part of the body stands to the next one. Blending is done between postures.
#include <array>

#include "geometry.hpp"

namespace quarterturn::sample {

/// One arm in the chest's frame, mirrored so that for both arms x points outwards, y up, z forwards. The elbow is a
/// hinge, so a blend of two arms never bends it backwards.
struct ArmPosture {
    Quat upper;        ///< columns: along the upper arm; towards the inside of the elbow; hinge axis
    double elbow = 0;  ///< radians, 0 straight
    Quat hand;         ///< in the forearm's frame; columns: fingers, palm normal, across
    double fist = 0;   ///< 0 open, 1 closed
    double raise = 0;  ///< shoulder lifted, metres
};

/// A foot's place in the stance, relative to the stance centre and heading.
struct FootPlace {
    double out = 0.07;    ///< ball of the foot, metres to its own side
    double ahead = 0;     ///< metres forwards
    double turned = 12;   ///< toes outwards, degrees
    double heel_up = 0;   ///< heel lifted, degrees about the ball
    double knee_out = 0;  ///< -1..1, where the knee points
};

struct Posture {
    std::array<ArmPosture, 2> arm;            ///< left, right
    std::array<FootPlace, 2> foot;            ///< left, right
    double crouch = 0.004;                    ///< pelvis below its highest place, metres
    double weight = 0;                        ///< -1 on the right foot, 1 on the left
    double pelvis_yaw = 0;                    ///< against the stance heading, degrees, positive to the own right
    double pelvis_tilt = 4, pelvis_roll = 0;  ///< degrees, forwards and to the left
    double bend = -2, lean = 0;               ///< chest against pelvis, degrees, forwards and to the left
    double twist = 0;                         ///< shoulder yaw minus pelvis yaw, degrees
    double head_yaw = 0, head_pitch = 0;      ///< against the chest, degrees
    double lats = 0;                          ///< upper back spread, 0..1
    double vacuum = 0;                        ///< waist drawn in, 0..1
    double flex = 0.3;                        ///< muscles tensed, 0..1
};

/// `s` = 0 gives a, 1 gives b.
[[nodiscard]] Posture blend(const Posture& a, const Posture& b, double s);
[[nodiscard]] ArmPosture blend(const ArmPosture& a, const ArmPosture& b, double s);

/// An arm from where its parts point (mirrored chest coordinates: outwards, up, forwards).
struct ArmAim {
    Vec upper, forearm, fingers, palm;
    double fist = 0, raise = 0;
};
[[nodiscard]] ArmPosture arm_of(const ArmAim& aim);

/// An arm whose wrist is at `wrist` (metres from the shoulder, mirrored chest coordinates) with the elbow towards
/// `elbow_towards`.
[[nodiscard]] ArmPosture arm_reaching(Vec wrist, Vec elbow_towards, Vec fingers, Vec palm, double upper_arm,
                                      double forearm, double fist = 0, double raise = 0);

/// Elbow of a two-bone chain, as the direction of its first bone. Reach is clamped to what the bones allow.
[[nodiscard]] Vec first_bone(Vec target, Vec bend_towards, double first, double second);

}  // namespace quarterturn::sample
