#include "body.hpp"

namespace quarterturn::sample {

Bones bones_of(const BodyShape& shape) {
    const bool male = shape.sex == Sex::male;
    const double h = shape.height_m;
    Bones b{};
    b.height = h;
    b.hip_half = h * (male ? 0.050 : 0.052);
    b.shoulder_half = h * (male ? 0.110 : 0.102) * shape.shoulder;
    b.hip_to_waist = h * 0.105;
    b.waist_to_shoulder = h * (0.818 - 0.530 - 0.105);
    b.upper_arm = h * 0.186;
    b.forearm = h * 0.146;
    b.hand = h * 0.108;
    b.thigh = h * 0.245;
    b.shank = h * 0.246;
    b.ankle_up = h * 0.039;
    b.ankle_to_heel = h * 0.030;
    b.ankle_to_ball = h * 0.077;
    b.ball_to_tip = h * 0.045;
    b.head = h * 0.0665;
    b.neck = h * (1 - 0.818) - b.head;
    b.heels = shape.heels_m;
    return b;
}

}  // namespace quarterturn::sample
