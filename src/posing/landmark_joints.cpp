#include "posing/landmark_joints.hpp"

#include <algorithm>
#include <cmath>

#include "posing/hidden_by_company.hpp"

namespace quarterturn::posing {
namespace {

constexpr double comes_in = 0.6;
constexpr double goes_out = 0.35;

/// In the order of posing::Joint.
constexpr std::array<body::Joint, main_joint_count> marks{
    body::Joint::left_shoulder, body::Joint::right_shoulder, body::Joint::left_elbow, body::Joint::right_elbow,
    body::Joint::left_wrist,    body::Joint::right_wrist,    body::Joint::left_hip,   body::Joint::right_hip,
    body::Joint::left_knee,     body::Joint::right_knee,     body::Joint::left_ankle, body::Joint::right_ankle};

/// Median of the facings in the stretch, or the nearest one.
std::optional<double> facing_in(const JointSeries& joints, const Stretch& stretch) {
    std::vector<double> values;
    for (std::size_t i = 0; i < joints.t_s.size(); ++i)
        if (joints.t_s[i] >= stretch.start_s && joints.t_s[i] <= stretch.end_s && joints.facing_deg[i])
            values.push_back(*joints.facing_deg[i]);
    if (values.empty()) return std::nullopt;
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

/// Middle one of three.
double middle_of(double a, double b, double c) {
    return std::max(std::min(a, b), std::min(std::max(a, b), c));
}

/// A joint that jumps for a single picture and comes back did not move: each position becomes the median of three.
void take_out_spikes(JointSeries& joints) {
    const std::vector<Posture> raw = joints.postures;
    for (std::size_t i = 1; i + 1 < raw.size(); ++i)
        for (std::size_t j = 0; j < joint_count; ++j) {
            const auto& a = raw[i - 1][j];
            const auto& b = raw[i][j];
            const auto& c = raw[i + 1][j];
            if (a && b && c)
                joints.postures[i][j] = JointPosition{middle_of(a->x, b->x, c->x), middle_of(a->y, b->y, c->y), 0};
        }
}

double far(const JointPosition& a, const JointPosition& b) {
    return std::hypot(a.x - b.x, a.y - b.y);
}

/// The network now and then finds a joint in another place from one picture to the next, with rest before and after
/// (hands behind the head: up to a tenth of the height, many times a second). No body moves so: a movement lasts
/// several pictures. What follows such a jump is moved back by it.
void take_out_jumps(JointSeries& joints) {
    constexpr double least = 0.004;  // body heights
    constexpr double rest = 0.3;     // of the jump, in the steps before and after
    const std::vector<Posture> raw = joints.postures;
    for (std::size_t j = 0; j < joint_count; ++j) {
        JointPosition shift;
        const auto step = [&](std::size_t i) {
            return raw[i - 1][j] && raw[i][j] ? far(*raw[i - 1][j], *raw[i][j]) : 0;
        };
        for (std::size_t i = 1; i < raw.size(); ++i) {
            if (!raw[i][j]) continue;
            const double jump = step(i);
            const double before = i > 1 ? step(i - 1) : 0, after = i + 1 < raw.size() ? step(i + 1) : 0;
            if (jump > least && std::max(before, after) < rest * jump) {
                shift.x += raw[i][j]->x - raw[i - 1][j]->x;
                shift.y += raw[i][j]->y - raw[i - 1][j]->y;
            }
            joints.postures[i][j] = JointPosition{raw[i][j]->x - shift.x, raw[i][j]->y - shift.y, 0};
        }
    }
}

/// With the hands behind the head the network's shoulders and elbows, and the hips with them, stray by a quarter of the
/// height; the wrists, though hidden, are found. So the hands and the legs say whether she moves, and the head, which
/// the trunk carries.
void trust_hands_and_legs(const body::CourseFrame& frame, double height_px, Posture& posture) {
    const auto at = [](Joint joint) { return static_cast<std::size_t>(joint); };
    for (const Joint leg : {Joint::left_knee, Joint::right_knee, Joint::left_ankle, Joint::right_ankle})
        if (!posture[at(leg)]) return;  // too little would be left
    for (const Joint wrist : {Joint::left_wrist, Joint::right_wrist}) {
        const body::CoursePoint& p = frame[marks[at(wrist)]];
        posture[at(wrist)] = JointPosition{p.x / height_px, p.y / height_px, 0};
    }
    for (const Joint joint : {Joint::left_shoulder, Joint::right_shoulder, Joint::left_elbow, Joint::right_elbow,
                              Joint::left_hip, Joint::right_hip})
        posture[at(joint)].reset();
    const body::CoursePoint ears = body::middle(frame[body::Joint::left_ear], frame[body::Joint::right_ear]);
    const body::CoursePoint head = body::middle(frame[body::Joint::nose], ears);
    posture[at(Joint::head)] = JointPosition{head.x / height_px, head.y / height_px, 0};
}

constexpr double profile = 0.35;  // cosine of the yaw
constexpr double degree = 3.14159265358979323846 / 180;

bool in_profile(std::optional<double> facing_deg) {
    return facing_deg && std::abs(std::cos(*facing_deg * degree)) < profile;
}

/// In profile the far side is guessed, however sure the network says it is, or even taken from somebody who walks by
/// behind her. The near side alone says whether she moves.
void trust_the_near_side(double facing_deg, Posture& posture) {
    const std::size_t near = std::sin(facing_deg * degree) > 0 ? 0 : 1;
    for (std::size_t j = near; j < main_joint_count; j += 2)
        if (!posture[j]) return;  // too little would be left
    for (std::size_t j = 1 - near; j < main_joint_count; j += 2) posture[j].reset();
}

/// How much further apart, or in another direction, one ankle lies from the other; 0 where either is hidden.
double feet_moved(const Posture& before, const Posture& after) {
    const auto left = static_cast<std::size_t>(Joint::left_ankle), right = static_cast<std::size_t>(Joint::right_ankle);
    if (!before[left] || !before[right] || !after[left] || !after[right]) return 0;
    const double x = after[left]->x - after[right]->x - before[left]->x + before[right]->x;
    const double y = after[left]->y - after[right]->y - before[left]->y + before[right]->y;
    return std::hypot(x, y);
}

bool without_trunk(const Posture& posture) {
    const auto missing = [&](Joint joint) { return !posture[static_cast<std::size_t>(joint)]; };
    return missing(Joint::left_shoulder) && missing(Joint::right_shoulder);
}

/// In profile the network may call the left shoulder the right one; there a pair keeps the places it had.
void keep_sides(JointSeries& joints) {
    constexpr double at_its_place = 0.04;
    for (std::size_t i = 1; i < joints.postures.size(); ++i) {
        if (!in_profile(joints.facing_deg[i])) continue;
        for (std::size_t left = 0; left + 1 < main_joint_count; left += 2) {
            auto& l = joints.postures[i][left];
            auto& r = joints.postures[i][left + 1];
            const auto& l0 = joints.postures[i - 1][left];
            const auto& r0 = joints.postures[i - 1][left + 1];
            if (!l || !r || !l0 || !r0) continue;
            // both where the other was: a single joint that flies off has changed places with nobody
            const double to_left = far(*r, *l0), to_right = far(*l, *r0);
            const bool there = std::max(to_left, to_right) < at_its_place;
            if (there && to_left + to_right < far(*l, *l0) + far(*r, *r0)) std::swap(l, r);
        }
    }
}

}  // namespace

JointSeries joints_of(const body::BodyCourse& course, const body::FacingSeries& facing) {
    JointSeries out;
    std::array<bool, main_joint_count> in{};
    for (std::size_t i = 0; i < course.frames.size(); ++i) {
        const body::CourseFrame& frame = course.frames[i];
        if (!frame.present) continue;
        Posture posture;
        for (std::size_t j = 0; j < main_joint_count; ++j) {
            const body::CoursePoint& p = frame[marks[j]];
            in[j] = in[j] ? p.seen >= goes_out : p.seen >= comes_in;
            if (in[j]) posture[j] = JointPosition{p.x / course.height_px, p.y / course.height_px, 0};
        }
        if (body::hands_behind_head(frame)) trust_hands_and_legs(frame, course.height_px, posture);
        out.t_s.push_back(frame.t_s);
        out.postures.push_back(posture);
        out.facing_deg.push_back(facing.yaw_deg[i]);
    }
    keep_sides(out);
    for (std::size_t i = 0; i < out.postures.size(); ++i)
        if (in_profile(out.facing_deg[i])) trust_the_near_side(*out.facing_deg[i], out.postures[i]);
    take_out_spikes(out);
    bridge_company(out, course);
    return out;
}

JointSeries without_jumps(JointSeries joints) {
    take_out_jumps(joints);
    return joints;
}

std::vector<StillStretch> still_stretches_of(const JointSeries& joints, const HoldSettings& settings) {
    const JointSeries steady = without_jumps(joints);
    const PostureDistance distance = [&](const Stretch& before, const Stretch& after) -> std::optional<double> {
        const auto a = facing_in(joints, before), b = facing_in(joints, after);
        const bool turned = a && b && std::abs(std::remainder(*b - *a, 360.0)) > settings.facing_change_deg;
        if (turned) return 2 * std::max(settings.posture_change, settings.excursion);
        // A joint found elsewhere for a while, or a jump taken out on the way there but not back: one of the two is
        // right.
        const Posture left = posture_in(joints, before), met = posture_in(joints, after);
        const auto found = posture_distance(left, met);
        const auto moved = posture_distance(posture_in(steady, before), posture_in(steady, after));
        if (!found || !moved) return found ? found : moved;
        const double least = std::min(*found, *moved);
        if (!without_trunk(left) || !without_trunk(met)) return least;
        // Where only hands and legs are trusted, the joints that would tell most are missing: a brief rest on the way
        // tells too little, and the feet stand where they stand.
        constexpr double brief_s = 0.1, less_told = 0.6;
        const bool brief = std::min(before.duration_s(), after.duration_s()) < brief_s;
        return std::max(brief ? least / less_told : least, feet_moved(left, met));
    };
    return find_still_stretches(fastest_joint_speed(steady), distance, in_the_picture(settings));
}

HoldSettings in_the_picture(HoldSettings settings) {
    settings.movement_speed *= 3.14159265358979323846 / 4;
    settings.posture_change *= 0.82;
    settings.slow_share = 0.7;
    return settings;
}

}  // namespace quarterturn::posing
