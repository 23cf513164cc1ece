#include "flesh.hpp"

#include "sculptor.hpp"

namespace quarterturn::sample {
namespace {

struct Model {
    const BodyShape& shape;
    const Bones& bones;
    const Skeleton& s;
    bool male;
    double m;  ///< muscle
};

void trunk(const Model& b, Sculptor& sculpt) {
    const BodyShape& shape = b.shape;
    const Skeleton& s = b.s;
    const double sh = shape.shoulder, breath = s.breath / b.bones.height;
    const double wide = (b.male ? 0.090 : 0.079) * (0.4 + 0.6 * sh);
    const double lats = 0.010 * s.lats;
    sculpt.region(Region::trunk);
    sculpt.blend(0.03);
    const Vec at = s.shoulders_middle;
    const Frame& f = s.chest_frame;
    // rib cage, then the yoke of the shoulders
    sculpt.ball(at, f, {0, -0.078, 0.002}, {wide, 0.102, (b.male ? 0.064 : 0.056) + 0.5 * breath});
    sculpt.ball(at, f, {0, -0.105, 0.006}, {wide * 0.90, 0.085, (b.male ? 0.060 : 0.053) + breath});
    const double half = b.bones.shoulder_half / b.bones.height;
    for (const double side : {1.0, -1.0}) {
        const std::size_t i = side > 0 ? 0 : 1;
        const Vec shoulder = s.shoulder[i];
        sculpt.blend(0.03);
        sculpt.ball(at, f, {side * half * 0.52, -0.026, 0.016}, {0.050, 0.026, 0.030});
        // from the neck to the shoulder, and the collar bone side of the chest
        sculpt.blend(0.025);
        sculpt.limb(mix(s.neck_top, at, 0.45) + 0.012 * b.bones.height * (side * f.x),
                    shoulder - 0.004 * b.bones.height * f.y, f.z, 0.020 * b.m, 0.020 * b.m, 0, 1, 1);
        // sides of the back
        sculpt.ball(at, f, {side * (wide * 0.78 + lats), -0.078, -0.022}, {0.026 * b.m + lats * 0.8, 0.078, 0.036});
        // shoulder blade
        sculpt.ball(at, f, {side * 0.045, -0.055, -0.042}, {0.040, 0.052, 0.022 * b.m});
        if (b.male) {
            sculpt.blend(0.014);
            sculpt.ball(at, f, {side * 0.042, -0.050, 0.044 + 0.6 * breath}, {0.047, 0.035, 0.024 * b.m});
        } else {
            sculpt.blend(0.018);
            sculpt.ball(at, f, {side * half * 0.42, -0.046, 0.040}, {0.038, 0.030, 0.016});
            sculpt.ball(at, f, {side * 0.037, -0.074, 0.043 + 0.6 * breath}, {0.032, 0.030, 0.029});
        }
    }
    // waist
    sculpt.blend(0.045);
    const double waist = (b.male ? 0.075 : 0.063) * shape.waist * (1 - 0.07 * s.vacuum);
    const double deep = (b.male ? 0.055 : 0.048) * (0.5 + 0.5 * shape.waist) * (1 - 0.20 * s.vacuum);
    sculpt.ball(s.waist, s.waist_frame, {0, 0.012, -0.001 - 0.004 * s.vacuum}, {waist, 0.085, deep});
    // the long muscles beside the spine
    sculpt.blend(0.02);
    for (const double side : {1.0, -1.0})
        sculpt.limb(
            s.pelvis + 0.03 * b.bones.height * s.pelvis_frame.y - 0.036 * b.bones.height * s.pelvis_frame.z +
                side * 0.018 * b.bones.height * s.pelvis_frame.x,
            at - 0.10 * b.bones.height * f.y - 0.036 * b.bones.height * f.z + side * 0.020 * b.bones.height * f.x, f.z,
            0.015, 0.018, 0);
}

void pelvis(const Model& b, Sculptor& sculpt) {
    const Skeleton& s = b.s;
    const double hip = b.shape.hip * (b.male ? 0.90 : 1.0);
    sculpt.region(Region::pelvis);
    sculpt.blend(0.04);
    sculpt.ball(s.pelvis, s.pelvis_frame, {0, 0.022, -0.002}, {0.083 * hip, 0.062, 0.055});
    sculpt.ball(s.pelvis, s.pelvis_frame, {0, -0.018, 0.000}, {0.088 * hip, 0.050, 0.050});
    sculpt.blend(0.018);
    for (const double side : {1.0, -1.0})
        sculpt.ball(s.pelvis, s.pelvis_frame, {side * 0.041 * hip, -0.026, -0.034}, {0.044 * hip, 0.048, 0.042 * b.m});
}

void neck_and_head(const Model& b, Sculptor& sculpt) {
    const Skeleton& s = b.s;
    const double hh = b.bones.head / b.bones.height;
    const auto in_head = [&](double x, double y, double z) { return Vec{x * hh, y * hh, z * hh}; };
    sculpt.region(Region::head);
    sculpt.blend(0.018);
    sculpt.limb(s.shoulders_middle - 0.012 * b.bones.height * s.chest_frame.z,
                s.head - 0.20 * b.bones.head * s.head_frame.y - 0.18 * b.bones.head * s.head_frame.z, s.chest_frame.z,
                b.male ? 0.036 * b.m : 0.029, b.male ? 0.034 : 0.0265, -0.001);
    sculpt.blend(0.012);
    const Frame& f = s.head_frame;
    const auto ball = [&](Vec centre, Vec radii) {
        sculpt.ball(s.head, f, in_head(centre.x, centre.y, centre.z), in_head(radii.x, radii.y, radii.z));
    };
    const double jaw = b.male ? 1.08 : 1.0;
    ball({0, 0.20, -0.06}, {0.69, 0.80, 0.84});
    ball({0, -0.28, 0.20}, {0.52 * jaw, 0.55, 0.58});
    ball({0, -0.70, 0.46}, {0.24 * jaw, 0.24, 0.24});
    sculpt.blend(0.008);
    sculpt.limb(s.head + b.bones.head * (f * Vec{0, 0.14, 0.74}), s.head + b.bones.head * (f * Vec{0, -0.16, 0.84}),
                f.x, 0.06 * hh, 0.105 * hh);
    ball({0, -0.52, 0.70}, {0.21, 0.10, 0.11});  // lips
    for (const double side : {1.0, -1.0}) {
        ball({side * 0.30, 0.30, 0.68}, {0.24, 0.09, 0.13});    // brow
        ball({side * 0.34, -0.16, 0.50}, {0.24, 0.20, 0.19});   // cheek bone
        ball({side * 0.69, -0.02, -0.05}, {0.08, 0.23, 0.15});  // ear
    }
    sculpt.region(Region::hair);
    sculpt.blend(0.004);
    ball({0, 0.30, -0.16}, {0.75, 0.82, 0.86});
    if (b.male) return;
    sculpt.blend(0.012);
    ball({0, 0.42, -1.02}, {0.34, 0.34, 0.30});
}

void arm(const Model& b, std::size_t i, Sculptor& sculpt) {
    const Skeleton& s = b.s;
    const double h = b.bones.height, m = b.m * (b.male ? 1.12 : 1.0);
    const Frame& u = s.upper_arm_frame[i];
    const Frame& fo = s.forearm_frame[i];
    const double bent = std::fmin(s.elbow_angle[i] / 1.6, 1), tense = s.flex * bent;
    sculpt.region(i == 0 ? Region::left_arm : Region::right_arm);
    sculpt.blend(0.020);
    // the round of the shoulder, a little up and out
    sculpt.ball(s.shoulder[i], u, {0.022, 0.0, 0.0}, {0.043, 0.031 * m, 0.032 * m});
    sculpt.blend(0.014);
    sculpt.limb(s.shoulder[i], s.elbow[i], u.y, 0.0255 * m, 0.0195, 0.0025 * m, 0.93, 1.06);
    sculpt.blend(0.010);
    sculpt.ball(s.shoulder[i], u, {0.100, 0.013 + 0.006 * tense, 0},
                {0.046 - 0.010 * tense, 0.0150 * m + 0.006 * tense, 0.0175 * m});
    sculpt.ball(s.shoulder[i], u, {0.092, -0.014, 0}, {0.052, 0.0140 * m, 0.0190 * m});
    sculpt.blend(0.012);
    sculpt.limb(s.elbow[i], s.wrist[i], fo.y, 0.0195 * m, 0.0125, 0.0045 * m, 1.02, 0.96);
    sculpt.ball(s.elbow[i], fo, {0.040, 0.006, 0.004}, {0.040, 0.0185 * m, 0.0195 * m});
    sculpt.shadow(s.shoulder[i], s.elbow[i], 0.028 * m);
    sculpt.shadow(s.elbow[i], s.wrist[i] + 0.06 * h * s.hand_frame[i].x, 0.019 * m);
}

void hand(const Model& b, std::size_t i, Sculptor& sculpt) {
    const Skeleton& s = b.s;
    const double h = b.bones.height, fist = s.fist[i];
    const Frame& f = s.hand_frame[i];  // x fingers, y palm, z away from the thumb
    const auto at = [&](double x, double y, double z) { return s.wrist[i] + h * (f * Vec{x, y, z}); };
    sculpt.region(i == 0 ? Region::left_hand : Region::right_hand);
    sculpt.blend(0.008);
    sculpt.limb(at(0.002, 0, 0), at(0.042, 0.001, 0), f.y, 0.0135, 0.0175, 0.001, 1.15, 0.62);
    sculpt.blend(0.004);
    for (int finger = 0; finger < 4; ++finger) {
        const double z = -0.0165 + 0.0108 * finger;
        const double size = std::array<double, 4>{0.0062, 0.0064, 0.0061, 0.0053}[static_cast<std::size_t>(finger)];
        const double reach = std::array<double, 4>{0.046, 0.051, 0.047, 0.037}[static_cast<std::size_t>(finger)];
        const double curl = 0.25 + 1.9 * fist, more = curl + 0.2 + 1.5 * fist;
        const Vec knuckle = at(0.048, 0.001, z);
        const Vec middle = knuckle + h * reach * 0.52 * (std::cos(curl) * f.x + std::sin(curl) * f.y);
        const Vec tip = middle + h * reach * 0.48 * (std::cos(more) * f.x + std::sin(more) * f.y);
        sculpt.limb(knuckle, middle, f.z, size * 1.05, size);
        sculpt.limb(middle, tip, f.z, size, size * 0.82);
    }
    const Vec root = at(0.012, 0.004, -0.014);
    const Vec joint = mix(at(0.034, 0.012, -0.032), at(0.036, 0.018, -0.020), fist);
    const Vec tip = mix(at(0.056, 0.015, -0.036), at(0.052, 0.024, -0.004), fist);
    sculpt.limb(root, joint, f.y, 0.0085, 0.0068);
    sculpt.limb(joint, tip, f.y, 0.0068, 0.0055);
}

void leg(const Model& b, std::size_t i, Sculptor& sculpt) {
    const Skeleton& s = b.s;
    const double side = i == 0 ? 1 : -1, m = b.m * (b.male ? 1.03 : 1.0);
    const Frame& t = s.thigh_frame[i];
    const Frame& k = s.shank_frame[i];
    const double h = b.bones.height;
    // frames: y down the bone, z to its front; x points to the body's right for both legs
    const double out = -side;
    sculpt.region(i == 0 ? Region::left_leg : Region::right_leg);
    sculpt.blend(0.020);
    const double hip = b.shape.hip * (b.male ? 0.96 : 1.0);
    sculpt.limb(s.hip[i] + h * 0.003 * side * s.pelvis_frame.x - h * 0.006 * s.pelvis_frame.y, s.knee[i], t.z,
                0.0490 * hip, 0.0270, 0.0020 * m, 0.97, 1.05);
    sculpt.blend(0.016);
    sculpt.ball(s.hip[i], t, {out * 0.008, 0.105, 0.016}, {0.036 * m, 0.092, 0.030 * m});     // front of the thigh
    sculpt.ball(s.hip[i], t, {out * -0.016, 0.195, 0.014}, {0.0165 * m, 0.036, 0.0165 * m});  // above the knee, inside
    sculpt.ball(s.hip[i], t, {0, 0.125, -0.018}, {0.032, 0.085, 0.026 * m});                  // back of the thigh
    sculpt.blend(0.012);
    sculpt.limb(s.knee[i], s.ankle[i], k.z, 0.0245, 0.0150, 0.0010, 0.95, 1.0);
    sculpt.ball(s.knee[i], k, {0, -0.002, 0.009}, {0.019, 0.022, 0.018});  // knee cap
    const double raised = std::fmin(std::fmax(dot(s.foot_frame[i].y, Vec{0, 1, 0}), 0), 1);
    const double calf = 0.0215 * m * (1 + 0.10 * (1 - raised));
    sculpt.ball(s.knee[i], k, {out * 0.007, 0.068, -0.0135}, {calf, 0.062, calf * 1.05});
    sculpt.ball(s.knee[i], k, {out * -0.010, 0.078, -0.012}, {calf * 0.92, 0.064, calf});
    sculpt.shadow(s.hip[i], s.knee[i], 0.043);
    sculpt.shadow(s.knee[i], s.ankle[i], 0.025);
    sculpt.shadow(s.heel[i] + 0.012 * h * Vec{0, 1, 0}, s.toe[i] + 0.008 * h * Vec{0, 1, 0}, 0.018);
}

void foot(const Model& b, std::size_t i, Sculptor& sculpt) {
    const Skeleton& s = b.s;
    const double h = b.bones.height;
    const Frame& f = s.foot_frame[i];
    const Vec up = f.y;
    sculpt.region(b.bones.heels > 0.02 ? Region::shoe : i == 0 ? Region::left_leg : Region::right_leg);
    sculpt.blend(0.012);
    const Vec heel = s.heel[i] + h * (0.018 * up + 0.012 * f.z);
    sculpt.limb(s.ankle[i] - 0.004 * h * up, heel, f.z, 0.0165, 0.0165);
    sculpt.limb(s.ankle[i] - h * 0.010 * up + h * 0.008 * f.z, s.ball[i] + h * 0.012 * up, up, 0.0180, 0.0130, 0, 1.18,
                1);
    sculpt.limb(heel, s.ball[i] + h * 0.012 * up, up, 0.0150, 0.0135, -0.003, 1.2, 1);
    sculpt.limb(s.ball[i] + h * Vec{0, 0.0115, 0},
                s.toe[i] + h * Vec{0, 0.0085, 0} - 0.008 * h * unit(s.toe[i] - s.ball[i]), {0, 1, 0}, 0.0135, 0.0085, 0,
                1.55, 1);
    if (b.bones.heels <= 0.02) return;
    sculpt.blend(0.004);
    sculpt.limb(s.heel[i] + 0.012 * h * up, {s.heel[i].x, 0.004, s.heel[i].z}, f.z, 0.0095, 0.0055);
}

PaintFrames frames_of(const Skeleton& s) {
    return {s.shoulders_middle, s.pelvis, s.head,  s.chest_frame,     s.pelvis_frame, s.head_frame,
            s.shoulder,         s.hip,    s.wrist, s.upper_arm_frame, s.thigh_frame,  s.hand_frame};
}

}  // namespace

void add_flesh(const BodyShape& shape, const Bones& bones, const Skeleton& skeleton, Flesh& flesh) {
    const Model model{shape, bones, skeleton, shape.sex == Sex::male, shape.muscle};
    Sculptor sculpt(bones.height, static_cast<std::uint8_t>(flesh.frames.size()), flesh);
    trunk(model, sculpt);
    pelvis(model, sculpt);
    neck_and_head(model, sculpt);
    for (const std::size_t i : {std::size_t{0}, std::size_t{1}}) {
        leg(model, i, sculpt);
        foot(model, i, sculpt);
        arm(model, i, sculpt);
        hand(model, i, sculpt);
    }
    const double h = bones.height;
    sculpt.shadow(skeleton.pelvis, skeleton.waist, 0.068);
    sculpt.shadow(skeleton.waist, skeleton.shoulders_middle - 0.06 * h * skeleton.chest_frame.y, 0.072);
    sculpt.shadow(skeleton.shoulder[0] - 0.02 * h * skeleton.chest_frame.y,
                  skeleton.shoulder[1] - 0.02 * h * skeleton.chest_frame.y, 0.038);
    sculpt.shadow(skeleton.head - 0.25 * bones.head * skeleton.head_frame.y,
                  skeleton.head + 0.25 * bones.head * skeleton.head_frame.y, 0.052);
    flesh.frames.push_back(frames_of(skeleton));
}

}  // namespace quarterturn::sample
