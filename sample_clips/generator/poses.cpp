#include "poses.hpp"

#include <algorithm>
#include <functional>
#include <map>

namespace quarterturn::sample {
namespace {

/// Everything a pose is made from.
struct Maker {
    const PoseChoice& choice;
    const Bones& bones;
    double h() const { return bones.height; }
    double fist() const { return choice.fists ? 1 : 0; }
    ArmPosture reach(Vec wrist, Vec elbow, Vec fingers, Vec palm, double fist = 0, double raise = 0) const {
        return arm_reaching(wrist, elbow, fingers, palm, bones.upper_arm, bones.forearm, fist, raise);
    }
    /// In shoulder widths and heights of this body: a point seen from the shoulder of the mirrored arm.
    Vec from_shoulder(double out_from_middle, double up, double ahead) const {
        return {out_from_middle * h() - bones.shoulder_half, up * h(), ahead * h()};
    }
};

ArmPosture hanging(double out, double ahead, double bend, double fist = 0.1) {
    return arm_of({{out, -1, ahead},
                   {out * 0.45, -1, ahead + bend},
                   {0.02, -1, ahead + bend + 0.08},
                   {-1, -0.1, -0.25},
                   fist,
                   0});
}

void both_arms(Posture& p, const ArmPosture& arm) {
    p.arm = {arm, arm};
}
void both_feet(Posture& p, const FootPlace& foot) {
    p.foot = {foot, foot};
}

Posture relaxed(const Maker& m) {
    Posture p;
    both_arms(p, hanging(0.13, 0.02, 0.10, 0.35));
    both_feet(p, {0.055 * m.h(), 0, 10, 0, 0});
    p.foot[1].ahead = 0.03;
    p.weight = 0.35;
    p.pelvis_roll = -2.5;
    p.lean = 3;
    p.bend = 4;
    p.head_pitch = 6;
    p.flex = 0;
    p.crouch = 0.012;
    return p;
}

Posture hair(const Maker& m) {
    Posture p = relaxed(m);
    const ArmPosture arm =
        m.reach(m.from_shoulder(0.035, 0.125, -0.05), {1, 0.35, 0.1}, {-0.75, 0.3, -0.4}, {-0.3, -0.2, 1}, 0.55, 0.02);
    both_arms(p, arm);
    p.head_pitch = 16;
    p.bend = 1;
    return p;
}

Posture quarter_front(const Maker& m) {
    Posture p;
    both_arms(p, hanging(0.36, -0.02, 0.30));
    if (m.choice.style == "hip")
        p.arm[1] =
            m.reach(m.from_shoulder(0.108, -0.268, 0.035), {1, 0.1, -0.5}, {-0.75, -0.45, 0.55}, {-0.6, 0.3, -0.6});
    both_feet(p, {0.034 * m.h(), 0, 24, 0, 0});
    p.lats = 0.6;
    p.flex = 0.75;
    p.bend = -4;
    p.pelvis_tilt = 5;
    return p;
}

Posture quarter_back(const Maker& m) {
    Posture p = quarter_front(m);
    both_arms(p, hanging(0.34, 0.00, 0.22));
    p.lats = 0.8;
    p.bend = -5;
    return p;
}

Posture quarter_side(const Maker& m) {
    Posture p = quarter_front(m);
    const bool left = m.choice.id == "quarter_left_side";
    // the near arm hangs a little behind the body, the far arm a little ahead
    p.arm[left ? 0 : 1] = hanging(0.16, -0.20, 0.28);
    p.arm[left ? 1 : 0] = hanging(0.24, 0.10, 0.34);
    both_feet(p, {0.030 * m.h(), 0, 12, 0, 0});
    p.twist = left ? -7 : 7;
    p.lats = 0.3;
    return p;
}

Posture line_up(const Maker& m) {
    Posture p = quarter_front(m);
    both_arms(p, hanging(0.24, 0.02, 0.22));
    p.foot[0] = {0.05 * m.h(), 0.085 * m.h(), 22, 0, 0.2};
    p.foot[1] = {0.045 * m.h(), -0.02 * m.h(), 24, 0, 0};
    p.weight = -0.55;
    p.pelvis_yaw = 12;
    p.pelvis_roll = 3;
    p.lean = -3;
    p.twist = -12;
    if (m.choice.style == "hip")
        p.arm[0] =
            m.reach(m.from_shoulder(0.108, -0.268, 0.035), {1, 0.1, -0.5}, {-0.75, -0.45, 0.55}, {-0.6, 0.3, -0.6});
    p.flex = 0.5;
    return p;
}

/// Upper arms level, elbows at about 90 degrees: the same for front and back.
ArmPosture double_biceps_arm(const Maker& m, double back) {
    const Vec palm = m.choice.fists ? Vec{-0.9, -0.3, 0.1} : Vec{-0.3, -0.25, 0.9};
    const Vec fingers = m.choice.fists ? Vec{-0.55, 0.75, 0} : Vec{0.10, 0.95, 0.25};
    return arm_of({{1, 0.06, -back}, {-0.06, 1, 0.05 - back * 0.4}, fingers, palm, m.fist(), 0.012});
}

Posture front_double_biceps(const Maker& m) {
    Posture p;
    both_arms(p, double_biceps_arm(m, 0.02));
    p.foot[0] = {0.075 * m.h(), 0.05 * m.h(), 24, 0, 0.3};
    p.foot[1] = {0.055 * m.h(), -0.02 * m.h(), 26, 0, 0};
    p.weight = -0.35;
    p.lats = 0.8;
    p.flex = 1;
    p.vacuum = 0.35;
    p.bend = -4;
    return p;
}

Posture back_double_biceps(const Maker& m) {
    Posture p;
    both_arms(p, double_biceps_arm(m, 0.10));
    p.foot[0] = {0.05 * m.h(), 0.0, 16, 0, 0};
    p.foot[1] = {0.06 * m.h(), -0.115 * m.h(), 14, 34, 0.1};
    p.weight = 0.5;
    p.lats = 0.8;
    p.flex = 1;
    p.bend = -9;
    p.pelvis_tilt = 6;
    return p;
}

ArmPosture spread_arm(const Maker& m, bool back) {
    // hands at the waist, elbows out and brought a little forwards
    const Vec wrist = m.from_shoulder(0.098, -0.225, back ? -0.005 : 0.040);
    return m.reach(wrist, {1, 0.15, 0.35}, {-0.8, -0.3, back ? -0.25 : -0.1}, {-0.2, 0.9, -0.3}, 0.8, 0.015);
}

Posture front_lat_spread(const Maker& m) {
    Posture p = front_double_biceps(m);
    both_arms(p, spread_arm(m, false));
    p.lats = 1.5;
    p.vacuum = 0.2;
    return p;
}

Posture back_lat_spread(const Maker& m) {
    Posture p = back_double_biceps(m);
    both_arms(p, spread_arm(m, true));
    p.lats = 1.6;
    p.bend = -3;
    return p;
}

/// Near leg bent on its toes, near arm in front of the waist with the far hand on its wrist.
Posture side_chest(const Maker& m) {
    Posture p;
    const bool left = m.choice.side != "right";
    const std::size_t near = left ? 0 : 1, far = 1 - near;
    const double sign = left ? 1 : -1;
    p.arm[near] = arm_of({{0.22, -1, 0.02}, {-0.62, 0.02, 1}, {-0.75, 0.1, 0.7}, {0, 1, 0.2}, m.fist(), 0.006});
    // the far hand takes the near wrist: that point in the far arm's own mirrored coordinates
    const Vec near_wrist = m.bones.upper_arm * unit({0.22, -1, 0.02}) + m.bones.forearm * unit({-0.62, 0.02, 1});
    const Vec grip{-(near_wrist.x + m.bones.shoulder_half) - m.bones.shoulder_half + 0.055, near_wrist.y - 0.01,
                   near_wrist.z + 0.035};
    p.arm[far] = m.reach(grip, {0.9, -0.9, -0.1}, {-1, 0.05, 0.1}, {-0.1, 0.4, -1}, 0.6);
    p.foot[near] = {0.038 * m.h(), 0.03 * m.h(), 4, 30, 0};
    p.foot[far] = {0.045 * m.h(), -0.01 * m.h(), 22, 0, 0};
    p.weight = left ? -0.35 : 0.35;
    p.crouch = 0.024;
    p.pelvis_yaw = -12 * sign;
    p.twist = -20 * sign;
    p.head_yaw = -42 * sign;
    p.flex = 1;
    p.lats = 0.5;
    p.vacuum = 0.3;
    p.bend = -5;
    return p;
}

/// Near arm straight down behind the hip, held at the wrist behind the back.
Posture side_triceps(const Maker& m) {
    Posture p;
    const bool left = m.choice.side != "right";
    const std::size_t near = left ? 0 : 1, far = 1 - near;
    const double sign = left ? 1 : -1;
    p.arm[near] = arm_of({{0.20, -1, -0.27}, {-0.02, -1, -0.20}, {-0.10, -1, -0.1}, {-0.3, 0, -1}, m.fist(), 0});
    const Vec near_wrist = m.bones.upper_arm * unit({0.20, -1, -0.27}) + m.bones.forearm * unit({-0.02, -1, -0.20});
    const Vec grip{-(near_wrist.x + m.bones.shoulder_half) - m.bones.shoulder_half + 0.050, near_wrist.y + 0.03,
                   near_wrist.z - 0.03};
    p.arm[far] = m.reach(grip, {0.9, -0.3, -0.8}, {-1, -0.25, 0.05}, {-0.1, 0.2, 1}, 0.55);
    p.foot[near] = {0.030 * m.h(), -0.075 * m.h(), 4, 34, 0};
    p.foot[far] = {0.045 * m.h(), 0.045 * m.h(), 18, 0, 0};
    p.weight = left ? -0.3 : 0.3;
    p.crouch = 0.016;
    p.pelvis_yaw = -8 * sign;
    p.twist = -14 * sign;
    p.head_yaw = -45 * sign;
    p.flex = 1;
    p.lats = 0.3;
    p.bend = -6;
    p.vacuum = 0.3;
    return p;
}

Posture abdominals_and_thighs(const Maker& m) {
    Posture p;
    const bool left = m.choice.side != "right";
    const ArmPosture arm = m.reach(m.from_shoulder(0.047, 0.122, -0.052), {1, 0.16, 0.10}, {-0.9, 0.15, -0.15},
                                   {-0.1, -0.1, 1}, 0.25, 0.03);
    both_arms(p, arm);
    p.foot[left ? 0 : 1] = {0.045 * m.h(), 0.155 * m.h(), 14, 0, 0};
    p.foot[left ? 1 : 0] = {0.050 * m.h(), -0.03 * m.h(), 26, 0, 0};
    p.weight = left ? -0.45 : 0.45;
    p.bend = 6;
    p.head_pitch = -2;
    p.flex = 1;
    p.lats = 0.4;
    p.vacuum = 0.4;
    return p;
}

/// Hands brought together low in front, shoulders forwards and up.
Posture most_muscular(const Maker& m) {
    Posture p;
    const ArmPosture arm = m.reach(m.from_shoulder(0.030, -0.200, 0.135), {1, -0.25, 0.15}, {-0.85, -0.45, 0.2},
                                   {-0.2, 0.2, -1}, 1, 0.030);
    both_arms(p, arm);
    p.foot[0] = {0.065 * m.h(), 0.08 * m.h(), 18, 0, 0.2};
    p.foot[1] = {0.065 * m.h(), -0.04 * m.h(), 22, 0, 0};
    p.bend = 15;
    p.pelvis_tilt = 8;
    p.head_pitch = -12;
    p.crouch = 0.03;
    p.flex = 1.2;
    p.lats = 0.7;
    return p;
}

/// Hands behind the head, elbows wide, belly drawn in.
Posture vacuum(const Maker& m) {
    Posture p = abdominals_and_thighs(m);
    const ArmPosture arm =
        m.reach(m.from_shoulder(0.045, 0.135, -0.050), {1, 0.2, 0.0}, {-0.9, 0.25, -0.1}, {-0.1, -0.1, 1}, 0.3, 0.02);
    both_arms(p, arm);
    both_feet(p, {0.045 * m.h(), 0, 20, 0, 0});
    p.weight = 0;
    p.bend = -7;
    p.vacuum = 1.4;
    p.lats = 0.8;
    return p;
}

/// One arm bent at head height, the other stretched out low to the side, body turned a little.
Posture favourite_classic(const Maker& m) {
    Posture p;
    const bool left = m.choice.side != "right";
    const double sign = left ? 1 : -1;
    p.arm[left ? 0 : 1] = arm_of({{1, 0.28, 0.05}, {-0.25, 1, 0.1}, {-0.45, 0.8, 0.1}, {-0.4, -0.4, 0.7}, 0.9, 0.02});
    p.arm[left ? 1 : 0] = arm_of({{0.95, -0.42, 0.10}, {0.93, -0.42, 0.30}, {0.9, -0.2, 0.45}, {-0.2, -1, 0}, 0.1, 0});
    p.foot[left ? 0 : 1] = {0.055 * m.h(), -0.02 * m.h(), 24, 0, 0};
    p.foot[left ? 1 : 0] = {0.085 * m.h(), 0.13 * m.h(), 20, 18, 0.2};
    p.weight = left ? 0.45 : -0.45;
    p.pelvis_yaw = 14 * sign;
    p.twist = -16 * sign;
    p.pelvis_roll = -3 * sign;
    p.lean = 5 * sign;
    p.head_yaw = -22 * sign;
    p.head_pitch = -6;
    p.crouch = 0.02;
    p.flex = 1;
    p.vacuum = 0.9;
    p.lats = 0.6;
    return p;
}

using MakePose = Posture (*)(const Maker&);
const std::map<std::string, MakePose, std::less<>>& makers() {
    static const std::map<std::string, MakePose, std::less<>> table{{"quarter_front", quarter_front},
                                                                    {"quarter_left_side", quarter_side},
                                                                    {"quarter_back", quarter_back},
                                                                    {"quarter_right_side", quarter_side},
                                                                    {"line_up", line_up},
                                                                    {"front_double_biceps", front_double_biceps},
                                                                    {"front_lat_spread", front_lat_spread},
                                                                    {"side_chest", side_chest},
                                                                    {"back_double_biceps", back_double_biceps},
                                                                    {"back_lat_spread", back_lat_spread},
                                                                    {"side_triceps", side_triceps},
                                                                    {"abdominals_and_thighs", abdominals_and_thighs},
                                                                    {"most_muscular", most_muscular},
                                                                    {"vacuum", vacuum},
                                                                    {"favourite_classic", favourite_classic},
                                                                    {"relaxed_stand", relaxed},
                                                                    {"hands_in_hair", hair}};
    return table;
}

}  // namespace

const std::vector<std::string>& pose_ids() {
    static const std::vector<std::string> ids = [] {
        std::vector<std::string> out;
        for (const auto& [id, make] : makers()) out.push_back(id);
        return out;
    }();
    return ids;
}

bool is_pose(std::string_view id) {
    return id != "relaxed_stand" && id != "hands_in_hair" && makers().find(id) != makers().end();
}

bool has_side(std::string_view id) {
    return id == "side_chest" || id == "side_triceps";
}

double pose_heading(const PoseChoice& choice) {
    if (choice.id == "quarter_left_side") return 90;
    if (choice.id == "quarter_right_side") return -90;
    if (has_side(choice.id)) return choice.side == "right" ? -90 : 90;
    if (choice.id.find("back") != std::string::npos) return 180;
    return 0;
}

Posture pose_posture(const PoseChoice& choice, const Bones& bones) {
    return makers().find(choice.id)->second(Maker{choice, bones});
}

Posture walking_posture(const Bones& bones) {
    Posture p;
    both_arms(p, hanging(0.15, 0.0, 0.16, 0.25));
    both_feet(p, {0.028 * bones.height, 0, 6, 0, 0});
    p.crouch = 0.008;
    p.bend = 0;
    p.flex = 0.1;
    return p;
}

}  // namespace quarterturn::sample
