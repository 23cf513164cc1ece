#pragma once
/// The invented bodies: bone lengths from height, and how the flesh deviates from the average.
#include <array>
#include <string>

namespace quarterturn::sample {

enum class Sex { female, male };

using Rgb = std::array<double, 3>;  ///< 0..1, as shown on a screen

struct BodyShape {
    Sex sex = Sex::female;
    double height_m = 1.66;                               ///< barefoot, top of the head
    double heels_m = 0;                                   ///< height of the shoe's heel
    double shoulder = 1, waist = 1, hip = 1, muscle = 1;  ///< width factors against the average athletic body
    double skin_texture = 0.04;                           ///< share of brightness that varies over the skin
    Rgb skin{0.66, 0.44, 0.31}, hair{0.16, 0.10, 0.07}, suit{0.48, 0.07, 0.20};
};

/// Metres. Lengths over height are the segment table of Drillis and Contini (1966) as printed in Winter, Biomechanics
/// and Motor Control of Human Movement: hip .530 and shoulder .818 above the floor, upper arm .186, forearm .146,
/// hand .108, thigh .245, shank .246, ankle .039, foot .152. The table's widths (.259, .191) are outer widths; joint
/// centres lie further in (.21 and .10 of height: from memory).
struct Bones {
    double height;
    double hip_half, shoulder_half;
    double hip_to_waist, waist_to_shoulder;
    double upper_arm, forearm, hand;
    double thigh, shank;
    double ankle_up, ankle_to_ball, ankle_to_heel, ball_to_tip;  ///< flat foot: ankle above floor, and lengths along it
    double neck, head;  ///< shoulder line to the head's centre, half height of the head
    double heels;
};
[[nodiscard]] Bones bones_of(const BodyShape& shape);

}  // namespace quarterturn::sample
