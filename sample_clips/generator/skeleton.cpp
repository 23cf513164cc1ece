#include "skeleton.hpp"

#include <algorithm>

namespace quarterturn::sample {
namespace {

constexpr double longest_leg = 0.9985;  ///< of thigh plus shank: a knee never locks

Frame pelvis_frame_of(const Posture& posture, const Stand& stand) {
    return rolled(stand.world_roll) * yawed(stand.yaw) * rolled(radians(posture.pelvis_roll)) *
           pitched(radians(posture.pelvis_tilt));
}

/// A mirrored arm direction in the world.
Vec out_of_chest(const Frame& chest, Vec v, double side) {
    return chest * Vec{v.x * side, v.y, v.z};
}

void solve_arm(const Bones& b, const ArmPosture& arm, std::size_t i, Skeleton& s) {
    const double side = i == 0 ? 1 : -1;
    s.shoulder[i] = s.shoulders_middle + s.chest_frame * Vec{side * b.shoulder_half, arm.raise, 0};
    const Frame upper = frame_of(arm.upper);
    const double c = std::cos(arm.elbow), sn = std::sin(arm.elbow);
    const Frame forearm{c * upper.x + sn * upper.y, c * upper.y - sn * upper.x, upper.z};
    const Frame hand = forearm * frame_of(arm.hand);
    const auto world = [&](const Frame& f) {
        return Frame{out_of_chest(s.chest_frame, f.x, side), out_of_chest(s.chest_frame, f.y, side),
                     out_of_chest(s.chest_frame, f.z, side)};
    };
    s.upper_arm_frame[i] = world(upper);
    s.forearm_frame[i] = world(forearm);
    s.hand_frame[i] = world(hand);
    s.elbow[i] = s.shoulder[i] + b.upper_arm * s.upper_arm_frame[i].x;
    s.wrist[i] = s.elbow[i] + b.forearm * s.forearm_frame[i].x;
    s.fist[i] = arm.fist;
    s.elbow_angle[i] = arm.elbow;
}

void solve_leg(const Bones& b, const FootState& foot, std::size_t i, Skeleton& s) {
    const double side = i == 0 ? 1 : -1;
    const FootPoints points = foot_points(b, foot);
    s.hip[i] = s.pelvis + s.pelvis_frame * Vec{side * b.hip_half, 0, 0};
    s.ankle[i] = points.ankle;
    s.heel[i] = points.heel;
    s.ball[i] = foot.ball;
    s.toe[i] = points.toe;
    s.foot_frame[i] = points.frame;
    const Vec pelvis_front = s.pelvis_frame.z, pelvis_left = s.pelvis_frame.x;
    const Vec toes = yawed(foot.yaw).z;
    const Vec bend = unit(pelvis_front) + 1.2 * toes + foot.knee_out * side * pelvis_left;
    const Vec thigh = first_bone(s.ankle[i] - s.hip[i], bend, b.thigh, b.shank);
    s.knee[i] = s.hip[i] + b.thigh * thigh;
    const Vec shank = unit(s.ankle[i] - s.knee[i]);
    const auto leg_frame = [&](Vec along) {
        Frame f;
        f.y = along;
        f.z = unit(bend - dot(bend, along) * along);
        f.x = cross(f.y, f.z);
        return f;
    };
    s.thigh_frame[i] = leg_frame(thigh);
    s.shank_frame[i] = leg_frame(shank);
    s.knee_angle[i] = std::acos(std::clamp(dot(thigh, shank), -1.0, 1.0));
}

}  // namespace

FootPoints foot_points(const Bones& b, const FootState& foot) {
    const Frame turned = yawed(foot.yaw);
    const double c = std::cos(foot.heel_up), s = std::sin(foot.heel_up);
    const auto about_ball = [&](double ahead, double up) {
        return foot.ball + turned * Vec{0, up * c - ahead * s, ahead * c + up * s};
    };
    FootPoints out;
    out.ankle = about_ball(-b.ankle_to_ball, b.ankle_up);
    out.heel = about_ball(-b.ankle_to_ball - b.ankle_to_heel, 0);
    out.toe = foot.ball + b.ball_to_tip * turned.z;
    out.frame = turned * pitched(foot.heel_up);
    return out;
}

double pelvis_height(const Bones& b, const Posture& posture, const Stand& stand) {
    const Frame frame = pelvis_frame_of(posture, stand);
    double lowest = 10;
    for (std::size_t i = 0; i < 2; ++i) {
        const Vec hip = frame * Vec{(i == 0 ? 1 : -1) * b.hip_half, 0, 0};
        const Vec ankle = foot_points(b, stand.foot[i]).ankle;
        const double dx = stand.pelvis.x + hip.x - ankle.x, dz = stand.pelvis.z + hip.z - ankle.z;
        const double reach = longest_leg * (b.thigh + b.shank);
        lowest = std::min(lowest, ankle.y + std::sqrt(std::max(reach * reach - dx * dx - dz * dz, 0.01)) - hip.y);
    }
    return lowest - posture.crouch;
}

Skeleton solve(const Bones& b, const Posture& posture, const Stand& stand) {
    Skeleton s;
    s.pelvis = stand.pelvis;
    s.pelvis_frame = pelvis_frame_of(posture, stand);
    const auto trunk = [&](double part) {
        return rolled(stand.world_roll) * yawed(stand.yaw + radians(posture.twist) * part) *
               rolled(radians(posture.pelvis_roll + posture.lean * part)) *
               pitched(radians(posture.pelvis_tilt + posture.bend * part));
    };
    s.waist_frame = trunk(0.5);
    s.chest_frame = trunk(1);
    s.waist = s.pelvis + b.hip_to_waist * mix(s.pelvis_frame.y, s.waist_frame.y, 0.5);
    s.shoulders_middle = s.waist + b.waist_to_shoulder * mix(s.waist_frame.y, s.chest_frame.y, 0.7);
    const double chest_yaw = stand.yaw + radians(posture.twist);
    s.head_frame = rolled(0.5 * stand.world_roll) * yawed(chest_yaw + radians(posture.head_yaw)) *
                   rolled(radians(0.4 * (posture.pelvis_roll + posture.lean))) *
                   pitched(radians(0.35 * (posture.pelvis_tilt + posture.bend) + posture.head_pitch));
    s.neck_top = s.shoulders_middle + 0.52 * b.neck * s.chest_frame.y + 0.012 * b.height * s.chest_frame.z;
    s.head = s.neck_top + 0.48 * b.neck * s.head_frame.y + 0.010 * b.height * s.head_frame.z;
    for (std::size_t i = 0; i < 2; ++i) {
        solve_arm(b, posture.arm[i], i, s);
        solve_leg(b, stand.foot[i], i, s);
    }
    s.lats = posture.lats;
    s.vacuum = posture.vacuum;
    s.flex = posture.flex;
    s.breath = stand.breath;
    return s;
}

const std::array<const char*, point_count>& point_names() {
    static const std::array<const char*, point_count> names{
        "nose",        "left_eye_inner",  "left_eye",        "left_eye_outer", "right_eye_inner",
        "right_eye",   "right_eye_outer", "left_ear",        "right_ear",      "mouth_left",
        "mouth_right", "left_shoulder",   "right_shoulder",  "left_elbow",     "right_elbow",
        "left_wrist",  "right_wrist",     "left_pinky",      "right_pinky",    "left_index",
        "right_index", "left_thumb",      "right_thumb",     "left_hip",       "right_hip",
        "left_knee",   "right_knee",      "left_ankle",      "right_ankle",    "left_heel",
        "right_heel",  "left_foot_index", "right_foot_index"};
    return names;
}

std::array<Vec, point_count> points_of(const Bones& b, const Skeleton& s) {
    std::array<Vec, point_count> p;
    const auto on_head = [&](double x, double y, double z) { return s.head + b.head * (s.head_frame * Vec{x, y, z}); };
    p[0] = on_head(0, -0.16, 0.98);
    const std::array<double, 3> eye_out{0.16, 0.29, 0.42};
    for (std::size_t i = 0; i < 3; ++i) {
        p[1 + i] = on_head(eye_out[i], 0.10, 0.76 - 0.06 * static_cast<double>(i));
        p[4 + i] = on_head(-eye_out[i], 0.10, 0.76 - 0.06 * static_cast<double>(i));
    }
    for (std::size_t i = 0; i < 2; ++i) {
        const double side = i == 0 ? 1 : -1;
        p[7 + i] = on_head(side * 0.68, -0.04, -0.06);
        p[9 + i] = on_head(side * 0.22, -0.50, 0.76);
        p[11 + i] = s.shoulder[i];
        p[13 + i] = s.elbow[i];
        p[15 + i] = s.wrist[i];
        const Frame& hand = s.hand_frame[i];
        const double far = mix(0.80, 0.50, s.fist[i]) * b.hand;
        // for a hand whose palm faces inwards and whose fingers hang down, the thumb is in front
        p[17 + i] = s.wrist[i] + far * 0.9 * hand.x + 0.022 * b.height * hand.z;
        p[19 + i] = s.wrist[i] + far * hand.x - 0.018 * b.height * hand.z;
        p[21 + i] = s.wrist[i] + 0.42 * b.hand * hand.x - 0.030 * b.height * hand.z + 0.010 * b.height * hand.y;
        p[23 + i] = s.hip[i];
        p[25 + i] = s.knee[i];
        p[27 + i] = s.ankle[i];
        p[29 + i] = s.heel[i];
        p[31 + i] = s.toe[i];
    }
    return p;
}

double line_yaw(Vec left, Vec right) {
    return std::atan2(left.z - right.z, left.x - right.x);
}

}  // namespace quarterturn::sample
