#pragma once
/// The skeleton at one moment: where every joint is and how every part is turned.
#include <array>

#include "body.hpp"
#include "posture.hpp"

namespace quarterturn::sample {

/// A foot on the floor or on its way.
struct FootState {
    Vec ball;            ///< of the foot, at sole height
    double yaw = 0;      ///< radians, direction of the toes
    double heel_up = 0;  ///< radians about the ball
    double knee_out = 0;
};

/// Where the trunk stands over the feet.
struct Stand {
    Vec pelvis;             ///< middle between the hip joints
    double yaw = 0;         ///< radians
    double world_roll = 0;  ///< whole trunk tipped to the right of the picture, radians
    double breath = 0;      ///< chest deeper than at rest, metres
    std::array<FootState, 2> foot;
};

/// World positions in metres. Index 0 is left, 1 right.
struct Skeleton {
    Frame pelvis_frame, waist_frame, chest_frame, head_frame;
    Vec pelvis, waist, shoulders_middle, neck_top, head;
    std::array<Vec, 2> shoulder, elbow, wrist, hip, knee, ankle, heel, ball, toe;
    std::array<Frame, 2> upper_arm_frame, forearm_frame, hand_frame;  ///< x along the part, y to its inside
    std::array<Frame, 2> thigh_frame, shank_frame, foot_frame;        ///< y along the part downwards, z to its front
    std::array<double, 2> fist{}, elbow_angle{}, knee_angle{};
    double lats = 0, vacuum = 0, flex = 0, breath = 0;
};

/// Ankle and heel of a foot.
struct FootPoints {
    Vec ankle, heel, toe;
    Frame frame;
};
[[nodiscard]] FootPoints foot_points(const Bones& bones, const FootState& foot);

/// Highest place of the pelvis from which both feet can be reached with knees just not straight.
[[nodiscard]] double pelvis_height(const Bones& bones, const Posture& posture, const Stand& stand);

[[nodiscard]] Skeleton solve(const Bones& bones, const Posture& posture, const Stand& stand);

/// Names of the 33 points in the order that landmark networks of the BlazePose family use (Bazarevsky et al. 2020).
constexpr std::size_t point_count = 33;
[[nodiscard]] const std::array<const char*, point_count>& point_names();
[[nodiscard]] std::array<Vec, point_count> points_of(const Bones& bones, const Skeleton& skeleton);

/// Yaw of the line from right to left, radians, 0 when it lies across the picture (left at the right edge).
[[nodiscard]] double line_yaw(Vec left, Vec right);

}  // namespace quarterturn::sample
