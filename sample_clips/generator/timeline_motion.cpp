#include <algorithm>
#include <cmath>

#include "timeline.hpp"

namespace quarterturn::sample {
namespace {

constexpr double grid_hz = 120;

/// Zero-phase Gaussian smoothing of an evenly spaced curve; the ends are held.
std::vector<double> smoothed(const std::vector<double>& curve, double sigma_s) {
    const int reach = static_cast<int>(std::ceil(3.5 * sigma_s * grid_hz));
    std::vector<double> weight;
    double sum = 0;
    for (int k = -reach; k <= reach; ++k) {
        weight.push_back(std::exp(-0.5 * std::pow(k / grid_hz / sigma_s, 2)));
        sum += weight.back();
    }
    const int last = static_cast<int>(curve.size()) - 1;
    std::vector<double> out(curve.size());
    for (int i = 0; i <= last; ++i) {
        double total = 0;
        for (int k = -reach; k <= reach; ++k)
            total += weight[static_cast<std::size_t>(k + reach)] *
                     curve[static_cast<std::size_t>(std::clamp(i + k, 0, last))];
        out[static_cast<std::size_t>(i)] = total / sum;
    }
    return out;
}

double sample_grid(const std::vector<double>& curve, double t) {
    const double at = std::clamp(t * grid_hz, 0.0, static_cast<double>(curve.size() - 1));
    const auto i = std::min(static_cast<std::size_t>(at), curve.size() - 2);
    return mix(curve[i], curve[i + 1], at - static_cast<double>(i));
}

}  // namespace

Posture Timeline::posture_at(double t) const {
    const auto after =
        std::partition_point(blends_.begin(), blends_.end(), [&](const Blend& b) { return b.start_s <= t; });
    if (after == blends_.begin()) return first_;
    const Blend& now = *(after - 1);
    const Posture& from = after - 1 == blends_.begin() ? first_ : (after - 2)->to;
    return blend(from, now.to, minimum_jerk((t - now.start_s) / (now.end_s - now.start_s)));
}

double Timeline::walking_at(double t) const {
    double most = 0;
    for (const auto& [from, to] : walks_)
        most = std::max(most, smooth_step(from, from + 0.5, t) * (1 - smooth_step(to - 0.5, to + 0.1, t)));
    return most;
}

void Timeline::make_tracks() {
    const auto count = static_cast<std::size_t>(std::ceil(duration_s_ * grid_hz)) + 2;
    for (std::vector<double>* track : {&x_, &y_, &z_, &yaw_}) track->resize(count);
    for (std::size_t i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / grid_hz;
        const std::array<FootTrack, 2> foot{feet_->at(0, t), feet_->at(1, t)};
        const double back = ball_ahead_of_hip(*bones_);
        const auto below_hip = [&](const FootTrack& f) {
            return f.ball - back * (yawed(f.heading) * Vec{0, 0, std::cos(f.turned)});
        };
        const double weight = 0.5 + 0.28 * posture_at(t).weight + 0.22 * (foot[1].swing - foot[0].swing);
        const Vec over = mix(below_hip(foot[1]), below_hip(foot[0]), weight);
        x_[i] = over.x;
        z_[i] = over.z;
        yaw_[i] = 0.5 * (foot[0].heading + foot[1].heading);
    }
    x_ = smoothed(x_, 0.11);
    z_ = smoothed(z_, 0.11);
    yaw_ = smoothed(yaw_, 0.10);
    for (std::size_t i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / grid_hz;
        y_[i] = pelvis_height(*bones_, posture_at(t), stand_at(t));
    }
    y_ = smoothed(y_, 0.05);
}

Stand Timeline::stand_at(double t) const {
    const Posture posture = posture_at(t);
    const double walking = walking_at(t);
    Stand stand;
    stand.pelvis = {sample_grid(x_, t), sample_grid(y_, t), sample_grid(z_, t)};
    const double heading = sample_grid(yaw_, t);
    const Vec ahead = yawed(heading).z;
    const double shoe = std::asin(std::min(0.9, bones_->heels / (bones_->ankle_to_ball + bones_->ankle_to_heel)));
    const double back = ball_ahead_of_hip(*bones_);
    double spread = 0;
    for (std::size_t i = 0; i < 2; ++i) {
        const FootTrack track = feet_->at(static_cast<int>(i), t);
        FootState& foot = stand.foot[i];
        foot.ball = track.ball;
        foot.yaw = track.heading + (i == 0 ? -1 : 1) * track.turned;
        const double behind = dot(stand.pelvis - track.ball, ahead) + back;  // how far the hip has passed this foot
        const double roll = radians(48) * smooth_step(0.10, 0.50, behind) * walking;
        foot.heel_up = shoe + radians(posture.foot[i].heel_up) * (1 - shoe) + roll;
        foot.knee_out = posture.foot[i].knee_out;
        spread += (i == 0 ? 1 : -1) * dot(track.ball, ahead);
    }
    stand.yaw = heading + radians(posture.pelvis_yaw) + radians(5) * walking * std::clamp(spread / 0.6, -1.0, 1.0);
    return stand;
}

/// Planted movements of the trunk; `wave` is in the disturbance's own unit.
void Timeline::wobble_trunk(const Disturbance& d, double wave, Posture& posture, Stand& stand) {
    switch (d.kind) {
        case Wobble::sway:
            stand.pelvis.x += 0.01 * wave;
            stand.world_roll += 0.4 * 0.01 * wave / stand.pelvis.y;
            break;
        case Wobble::twist:
            posture.twist += wave;
            break;
        case Wobble::turn:
            stand.yaw += radians(wave);
            break;
        case Wobble::lean:
            posture.lean += wave;
            break;
        case Wobble::breath:
            stand.breath += 0.001 * wave;
            break;
        case Wobble::tremor:
        case Wobble::drift_arm:
        case Wobble::fidget_hand:
            break;
    }
}

/// @param part  how much of the hold has passed, 0..1
void Timeline::wobble_arm(const Disturbance& d, double soft, double since, double part, ArmPosture& arm) const {
    if (d.kind == Wobble::tremor)
        arm.elbow += 0.001 * soft * d.size * std::sin(2 * std::numbers::pi * d.hz * since) / bones_->forearm;
    if (d.kind == Wobble::drift_arm)
        arm.upper = quat_of(rolled(radians(d.size) * minimum_jerk(part)) * frame_of(arm.upper));
    if (d.kind != Wobble::fidget_hand) return;
    double a = 0, b = 0;
    for (const Sine& sine : fidget_) {
        a += sine.size * std::sin(6.283 * sine.hz * d.hz * since + sine.phase);
        b += sine.size * std::sin(6.283 * sine.hz * d.hz * since * 1.13 + 2 * sine.phase);
    }
    arm.elbow = std::max(0.02, arm.elbow + soft * 0.01 * d.size * a / bones_->forearm);
    arm.hand = quat_of(frame_of(arm.hand) * rolled(soft * 0.05 * d.size * b) * pitched(soft * 0.05 * d.size * a));
}

void Timeline::wobble(double t, Posture& posture, Stand& stand) const {
    const auto now = std::find_if(times_.begin(), times_.end(),
                                  [&](const StepTimes& s) { return t >= s.arrive_s && t <= s.depart_s; });
    if (now == times_.end()) return;
    const double kept = now->depart_s - now->arrive_s, since = t - now->arrive_s;
    const double ramp = std::min(0.6, 0.25 * kept);
    const double soft =
        smooth_step(now->arrive_s, now->arrive_s + ramp, t) * (1 - smooth_step(now->depart_s - ramp, now->depart_s, t));
    for (const Disturbance& d : script_->steps[now->step].disturb) {
        wobble_trunk(d, soft * d.size * std::sin(2 * std::numbers::pi * d.hz * since), posture, stand);
        for (int arm = 0; arm < 2; ++arm)
            if (d.arm == 2 || d.arm == arm)
                wobble_arm(d, soft, since, since / kept, posture.arm[static_cast<std::size_t>(arm)]);
    }
}

Skeleton Timeline::at(double t) const {
    t = std::clamp(t, 0.0, duration_s_);
    Posture posture = posture_at(t);
    Stand stand = stand_at(t);
    const double walking = walking_at(t);
    const Frame heading = yawed(stand.yaw);
    const double spread = std::clamp(dot(stand.foot[0].ball - stand.foot[1].ball, heading.z) / 0.6, -1.2, 1.2);
    for (std::size_t i = 0; i < 2; ++i) {
        const double forwards = (i == 0 ? -1 : 1) * radians(24) * spread * walking;
        posture.arm[i].upper = quat_of(pitched(-forwards) * frame_of(posture.arm[i].upper));
        posture.arm[i].elbow += std::max(0.0, 0.5 * forwards);
    }
    posture.twist -= 9 * spread * walking;
    for (const Sine& s : natural_[0]) stand.pelvis.x += s.size * std::sin(6.2831853 * s.hz * t + s.phase);
    for (const Sine& s : natural_[1]) stand.pelvis.z += s.size * std::sin(6.2831853 * s.hz * t + s.phase);
    stand.breath += 0.001 * script_->natural.breath_mm * std::sin(6.2831853 * 0.27 * t);
    wobble(t, posture, stand);
    for (ArmPosture& arm : posture.arm) arm.raise += 0.4 * stand.breath;
    // a sway must not stretch a leg beyond its length
    stand.pelvis.y = std::min(stand.pelvis.y, pelvis_height(*bones_, posture, stand) + posture.crouch);
    return solve(*bones_, posture, stand);
}

}  // namespace quarterturn::sample
