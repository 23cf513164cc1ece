#include "posture.hpp"

#include <algorithm>

namespace quarterturn::sample {
namespace {

FootPlace blend_foot(const FootPlace& a, const FootPlace& b, double s) {
    return {mix(a.out, b.out, s), mix(a.ahead, b.ahead, s), mix(a.turned, b.turned, s), mix(a.heel_up, b.heel_up, s),
            mix(a.knee_out, b.knee_out, s)};
}

/// Part of `v` at right angles to the unit vector `axis`, or some such direction when there is none.
Vec aside(Vec v, Vec axis) {
    Vec out = v - dot(v, axis) * axis;
    if (length(out) < 1e-6) out = cross(axis, std::abs(axis.y) < 0.9 ? Vec{0, 1, 0} : Vec{1, 0, 0});
    return unit(out);
}

}  // namespace

ArmPosture blend(const ArmPosture& a, const ArmPosture& b, double s) {
    return {slerp(a.upper, b.upper, s), mix(a.elbow, b.elbow, s), slerp(a.hand, b.hand, s), mix(a.fist, b.fist, s),
            mix(a.raise, b.raise, s)};
}

Posture blend(const Posture& a, const Posture& b, double s) {
    Posture out;
    for (std::size_t i = 0; i < 2; ++i) {
        out.arm[i] = blend(a.arm[i], b.arm[i], s);
        out.foot[i] = blend_foot(a.foot[i], b.foot[i], s);
    }
    for (const auto member :
         {&Posture::crouch, &Posture::weight, &Posture::pelvis_yaw, &Posture::pelvis_tilt, &Posture::pelvis_roll,
          &Posture::bend, &Posture::lean, &Posture::twist, &Posture::head_yaw, &Posture::head_pitch, &Posture::lats,
          &Posture::vacuum, &Posture::flex})
        out.*member = mix(a.*member, b.*member, s);
    return out;
}

ArmPosture arm_of(const ArmAim& aim) {
    ArmPosture arm;
    const Vec upper = unit(aim.upper), forearm = unit(aim.forearm);
    const Vec inside = aside(forearm, upper);
    const Vec hinge = cross(upper, inside);
    arm.upper = quat_of({upper, inside, hinge});
    arm.elbow = std::acos(std::clamp(dot(upper, forearm), -1.0, 1.0));
    const Frame forearm_frame{forearm, cross(hinge, forearm), hinge};
    const Vec fingers = unit(aim.fingers), palm = aside(aim.palm, fingers);
    const Vec across = cross(fingers, palm);
    arm.hand =
        quat_of({in_frame(forearm_frame, fingers), in_frame(forearm_frame, palm), in_frame(forearm_frame, across)});
    arm.fist = aim.fist;
    arm.raise = aim.raise;
    return arm;
}

Vec first_bone(Vec target, Vec bend_towards, double first, double second) {
    const double reach = std::clamp(length(target), std::abs(first - second) + 1e-4, (first + second) * 0.9995);
    const Vec along = unit(target);
    const double c = std::clamp((first * first + reach * reach - second * second) / (2 * first * reach), -1.0, 1.0);
    return c * along + std::sqrt(1 - c * c) * aside(bend_towards, along);
}

ArmPosture arm_reaching(Vec wrist, Vec elbow_towards, Vec fingers, Vec palm, double upper_arm, double forearm,
                        double fist, double raise) {
    const Vec upper = first_bone(wrist, elbow_towards, upper_arm, forearm);
    return arm_of({upper, wrist - upper_arm * upper, fingers, palm, fist, raise});
}

}  // namespace quarterturn::sample
