#include "posing/pose_features.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "posing/hands_speed.hpp"

namespace quarterturn::posing {
namespace {

using body::CourseFrame;
using body::CoursePoint;
using enum body::Joint;

constexpr double degree = std::numbers::pi / 180;

struct Limb {
    body::Joint shoulder, elbow, wrist, hip, knee, ankle, heel, tip;
};
constexpr std::array<Limb, 2> limbs{
    Limb{left_shoulder, left_elbow, left_wrist, left_hip, left_knee, left_ankle, left_heel, left_foot_tip},
    Limb{right_shoulder, right_elbow, right_wrist, right_hip, right_knee, right_ankle, right_heel, right_foot_tip}};

double worst(std::initializer_list<CoursePoint> points) {
    double seen = 1;
    for (const CoursePoint& p : points) seen = std::min(seen, p.seen);
    return seen;
}

/// One picture's posture, in body heights.
class Reader {
  public:
    Reader(const CourseFrame& frame, double yaw_deg) : frame_(frame), yaw_(yaw_deg * degree) {
        shoulders_ = body::middle(frame[left_shoulder], frame[right_shoulder]);
    }

    void read(PoseFeatures& out) const {
        arms(out);
        near_arm(out);
        legs(out);
        head(out);
    }

  private:
    static void put(PoseFeatures& out, Feature f, double value, double seen) {
        out.values[static_cast<std::size_t>(f)] = SeenFeature{value, seen};
    }
    static void put_both(PoseFeatures& out, Feature more, Feature less, const std::array<double, 2>& values,
                         const std::array<double, 2>& seen) {
        const std::size_t high = values[0] >= values[1] ? 0 : 1;
        put(out, more, values[high], seen[high]);
        put(out, less, values[1 - high], seen[1 - high]);
    }
    [[nodiscard]] double heights(double pixels) const { return pixels / frame_.height_px; }
    /// From its own shoulder away from the body: the left arm's side is the right side of the picture when she faces
    /// the phone.
    [[nodiscard]] double out_of(std::size_t side, const CoursePoint& p) const {
        const double sign = (side == 0 ? 1 : -1) * (std::cos(yaw_) >= 0 ? 1 : -1);
        return sign * heights(p.x - frame_[limbs[side].shoulder].x);
    }
    [[nodiscard]] double ahead(double from_x, double to_x) const {
        return (std::sin(yaw_) >= 0 ? -1 : 1) * heights(to_x - from_x);
    }

    void arms(PoseFeatures& out) const {
        std::array<double, 2> bend{}, elbow_up{}, wrist_up{}, elbow_out{}, wrist_out{}, elbow_seen{}, wrist_seen{};
        // Hidden, but there is only one place where they can be.
        const double behind_head = body::hands_behind_head(frame_) ? 0.7 : 0;
        for (std::size_t side = 0; side < 2; ++side) {
            const CoursePoint& shoulder = frame_[limbs[side].shoulder];
            const CoursePoint& elbow = frame_[limbs[side].elbow];
            const CoursePoint& wrist = frame_[limbs[side].wrist];
            bend[side] = angle_at(elbow, shoulder, wrist);
            elbow_up[side] = heights(shoulder.y - elbow.y);
            wrist_up[side] = heights(shoulder.y - wrist.y);
            elbow_out[side] = out_of(side, elbow);
            wrist_out[side] = out_of(side, wrist);
            elbow_seen[side] = worst({shoulder, elbow});
            wrist_seen[side] = std::max(worst({shoulder, elbow, wrist}), behind_head);
        }
        put_both(out, Feature::straighter_elbow, Feature::more_bent_elbow, bend, wrist_seen);
        put_both(out, Feature::higher_elbow, Feature::lower_elbow, elbow_up, elbow_seen);
        put_both(out, Feature::higher_wrist, Feature::lower_wrist, wrist_up, wrist_seen);
        put_both(out, Feature::wider_elbow, Feature::narrower_elbow, elbow_out, elbow_seen);
        put_both(out, Feature::wider_wrist, Feature::narrower_wrist, wrist_out, wrist_seen);
        put(out, Feature::wrists_apart, heights(body::distance(frame_[left_wrist], frame_[right_wrist])),
            worst({frame_[left_wrist], frame_[right_wrist]}));
        const CoursePoint ears = body::middle(frame_[left_ear], frame_[right_ear]);
        const double further =
            std::max(body::distance(frame_[left_wrist], ears), body::distance(frame_[right_wrist], ears));
        put(out, Feature::hands_from_head, heights(further), std::min(wrist_seen[0], wrist_seen[1]));
        put(out, Feature::wrists_differ, std::abs(wrist_up[0] - wrist_up[1]), std::min(wrist_seen[0], wrist_seen[1]));
    }

    void near_arm(PoseFeatures& out) const {
        const Limb& near = limbs[std::sin(yaw_) >= 0 ? 0 : 1];
        const CoursePoint& shoulder = frame_[near.shoulder];
        const CoursePoint& elbow = frame_[near.elbow];
        const CoursePoint& wrist = frame_[near.wrist];
        const double seen = worst({shoulder, elbow, wrist});
        put(out, Feature::near_elbow, angle_at(elbow, shoulder, wrist), seen);
        put(out, Feature::near_elbow_ahead, ahead(shoulder.x, elbow.x), worst({shoulder, elbow}));
        put(out, Feature::near_wrist_ahead, ahead(shoulder.x, wrist.x), seen);
        put(out, Feature::near_wrist_up, heights(shoulder.y - wrist.y), seen);
    }

    void legs(PoseFeatures& out) const {
        std::array<double, 2> knee{}, heel_up{}, seen{};
        for (std::size_t side = 0; side < 2; ++side) {
            const Limb& leg = limbs[side];
            knee[side] = angle_at(frame_[leg.knee], frame_[leg.hip], frame_[leg.ankle]);
            heel_up[side] = heights(frame_[leg.tip].y - frame_[leg.heel].y);
            seen[side] = worst({frame_[leg.hip], frame_[leg.knee], frame_[leg.ankle]});
        }
        const std::size_t bent = knee[0] < knee[1] ? 0 : 1;
        put(out, Feature::more_bent_knee, knee[bent], seen[bent]);
        const double feet =
            worst({frame_[left_heel], frame_[right_heel], frame_[left_foot_tip], frame_[right_foot_tip]});
        put(out, Feature::higher_heel, std::abs(heel_up[0] - heel_up[1]), feet);
        const CoursePoint ankles = body::middle(frame_[left_ankle], frame_[right_ankle]);
        // A foot read somewhere up the leg says nothing; level is what most stances are.
        const bool believed = shanks_alike();
        const double ahead = std::abs(frame_[left_ankle].y - frame_[right_ankle].y);
        put(out, Feature::foot_ahead, believed ? heights(ahead) : 0, believed ? ankles.seen : 0);
        put(out, Feature::heels_apart, heights(std::abs(frame_[left_heel].x - frame_[right_heel].x)), feet);
        hip_shift(out, ankles, believed);
    }

    /// Half against the upright, half against the line up to the ears: a phone that leans a little shows a shift
    /// against the one, a head that leans against the other. With its sign, so that sway cancels.
    void hip_shift(PoseFeatures& out, const CoursePoint& ankles, bool believed) const {
        const CoursePoint hips = body::middle(frame_[left_hip], frame_[right_hip]);
        const CoursePoint ears = body::middle(frame_[left_ear], frame_[right_ear]);
        const double rise = ankles.y - ears.y;
        believed = believed && rise > 0;
        const double share = believed ? (ankles.y - hips.y) / rise : 0;
        const double shift = (hips.x - ankles.x) - share * (ears.x - ankles.x) / 2;
        put(out, Feature::hip_shift, heights(shift), believed ? std::min(hips.seen, ankles.seen) : 0);
    }

    /// One shank so much shorter than the other is a foot that the network has put somewhere up the leg; a foot ahead
    /// makes a fifth.
    [[nodiscard]] bool shanks_alike() const {
        constexpr double most = 1.35;
        const double left = body::distance(frame_[left_knee], frame_[left_ankle]);
        const double right = body::distance(frame_[right_knee], frame_[right_ankle]);
        return std::max(left, right) < most * std::min(left, right) || std::abs(std::cos(yaw_)) < 0.7;
    }

    void head(PoseFeatures& out) const {
        const CoursePoint ears = body::middle(frame_[left_ear], frame_[right_ear]);
        const double seen = worst({frame_[nose], ears});
        put(out, Feature::head_turn, ahead(ears.x, frame_[nose].x), seen);
        put(out, Feature::head_down, heights(frame_[nose].y - ears.y), seen);
        const CoursePoint& left = frame_[left_shoulder];
        const CoursePoint& right = frame_[right_shoulder];
        const double slope = std::atan2(std::abs(left.y - right.y), std::abs(left.x - right.x)) / degree;
        put(out, Feature::shoulders_slope, slope, shoulders_.seen);
    }

    const CourseFrame& frame_;
    double yaw_;
    CoursePoint shoulders_;
};

double median(std::vector<double>& values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

}  // namespace

double angle_at(const CoursePoint& at, const CoursePoint& a, const CoursePoint& b) {
    const double ax = a.x - at.x, ay = a.y - at.y, bx = b.x - at.x, by = b.y - at.y;
    return std::abs(std::atan2(ax * by - ay * bx, ax * bx + ay * by)) / degree;
}

std::optional<double> mean_facing(const body::BodyCourse& course, const body::FacingSeries& facing,
                                  const Stretch& stretch) {
    double x = 0, y = 0;
    for (std::size_t i = 0; i < course.frames.size(); ++i) {
        const double t = course.frames[i].t_s;
        if (t < stretch.start_s || t > stretch.end_s || !facing.yaw_deg[i]) continue;
        x += std::cos(*facing.yaw_deg[i] * degree);
        y += std::sin(*facing.yaw_deg[i] * degree);
    }
    if (x == 0 && y == 0) return std::nullopt;
    const double mean = std::atan2(y, x) / degree;
    return mean <= -180 ? 180.0 : mean;
}

PoseFeatures features_in(const body::BodyCourse& course, const body::FacingSeries& facing, const Stretch& hold) {
    const double margin = std::min(0.5, hold.duration_s() / 5);
    const Stretch settled{hold.start_s + margin, hold.end_s - margin};
    PoseFeatures out;
    out.facing_deg = mean_facing(course, facing, settled);
    if (!out.facing_deg) return out;
    std::array<std::vector<double>, feature_count> values, seen;
    for (const CourseFrame& frame : course.frames) {
        if (!frame.present || frame.t_s < settled.start_s || frame.t_s > settled.end_s) continue;
        PoseFeatures one;
        Reader(frame, *out.facing_deg).read(one);
        for (std::size_t f = 0; f < feature_count; ++f) {
            if (!one.values[f]) continue;
            values[f].push_back(one.values[f]->value);
            seen[f].push_back(one.values[f]->seen);
        }
        ++out.pictures;
    }
    if (out.pictures == 0) return out;
    for (std::size_t f = 0; f < feature_count; ++f)
        if (!values[f].empty()) out.values[f] = SeenFeature{median(values[f]), median(seen[f])};
    if (auto& shift = out.values[static_cast<std::size_t>(Feature::hip_shift)]) shift->value = std::abs(shift->value);
    // Hands behind the head are hidden, yet found where they move: counted as seen, unless the arms are not known at
    // all.
    constexpr double flying = 0.1, hardly_told = 0.3;
    const bool known = elbows_speed(course, settled).value_or(0) <= flying;
    if (const auto speed = hands_speed(course, settled))
        out.values[static_cast<std::size_t>(Feature::hands_busy)] = SeenFeature{*speed, known ? 1 : hardly_told};
    return out;
}

}  // namespace quarterturn::posing
