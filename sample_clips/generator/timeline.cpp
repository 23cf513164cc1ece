#include "timeline.hpp"

#include <algorithm>
#include <cmath>

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

/// The heading equal to `heading` that is reached from `now` by the wanted side.
double unwrapped(double heading, double now, std::optional<bool> right) {
    double turn = std::remainder(heading - now, 2 * std::numbers::pi);
    if (turn < -std::numbers::pi + 0.02) turn += 2 * std::numbers::pi;  // a half turn goes to the right
    if (right && *right && turn < -0.02) turn += 2 * std::numbers::pi;
    if (right && !*right && turn > 0.02) turn -= 2 * std::numbers::pi;
    return now + turn;
}

Vec phone_place(const CameraSetup& camera) {
    return {camera.sideways_m + 0.55, 0, camera.distance_m - 0.55};
}
double heading_towards(Vec from, Vec to) {
    return std::atan2(-(to.x - from.x), to.z - from.z);
}

}  // namespace

Timeline::Timeline(const Script& script)
    : Timeline(script, script.steps.front().kind == StepKind::walk_in ? phone_place(script.camera) : Vec{},
               script.steps.front().kind == StepKind::walk_in ? heading_towards(phone_place(script.camera), Vec{})
                                                              : radians(pose_heading(script.steps.front().pose))) {}

Timeline Timeline::spectator(const Script& script) {
    const Spectator& who = *script.room.spectator;
    Script other = script;
    other.body = BodyShape{};
    other.body.sex = Sex::male;
    other.body.height_m = 1.79;
    other.body.skin = {0.60, 0.43, 0.34};
    other.body.suit = {0.20, 0.24, 0.30};
    other.seed = script.seed + 77;
    Step walk;
    walk.kind = StepKind::walk;
    const double side = who.to_left ? 1 : -1;
    walk.to_x = -side * 2.6;
    walk.to_z = -who.behind_m;
    walk.step_m = 0.66;
    walk.cadence = 112;
    other.steps = {walk};
    const Vec from{side * 2.6, 0, -who.behind_m};
    return {other, from, heading_towards(from, {walk.to_x, 0, walk.to_z})};
}

Timeline::Timeline(Script script, Vec place, double heading)
    : script_(std::make_shared<const Script>(std::move(script))),
      bones_(std::make_shared<const Bones>(bones_of(script_->body))) {
    const Step& step = script_->steps.front();
    const bool walks = step.kind == StepKind::walk_in || step.kind == StepKind::walk;
    first_ = walks ? walking_posture(*bones_) : pose_posture(step.pose, *bones_);
    feet_ = std::make_shared<Footwork>(*bones_, place, heading, first_.foot);
    std::mt19937 random(script_->seed * 2654435761U + 17U);
    const auto draw = [&](double low, double high) {
        return mix(low, high, static_cast<double>(random()) / 4294967295.0);
    };
    for (std::vector<Sine>& sines : natural_)
        for (const double middle : {0.17, 0.31, 0.52})
            sines.push_back(
                {middle * draw(0.85, 1.15), draw(0, 6.28), std::sqrt(2.0 / 3.0) * 0.01 * script_->natural.sway_cm});
    for (const double factor : {0.43, 0.71, 1.0, 1.37})
        fidget_.push_back({factor * draw(0.9, 1.1), draw(0, 6.28), 0.5});
    plan();
    make_tracks();
}

void Timeline::plan() {
    double t = 0;
    for (std::size_t i = 0; i < script_->steps.size(); ++i) {
        const Step& step = script_->steps[i];
        StepTimes times{i, t, t, t};
        const bool walks =
            step.kind == StepKind::walk_in || step.kind == StepKind::walk_out || step.kind == StepKind::walk;
        if (walks)
            plan_walk(step, t, times);
        else
            plan_pose(step, t, times);
        times_.push_back(times);
    }
    duration_s_ = t;
}

/// Turns on the spot when the walk's direction asks for it.
void Timeline::face(double heading, double& t) {
    const double turn = std::abs(heading - feet_->heading());
    if (turn < radians(12)) return;
    const int count = std::max(2, static_cast<int>(std::ceil(turn / radians(50))));
    const double took = 0.40 * count;
    feet_->turn(t, t + took, heading, walking_posture(*bones_).foot, count);
    blend_to(t, t + std::min(took, 0.8), walking_posture(*bones_));
    t += took;
}

void Timeline::plan_walk(const Step& step, double& t, StepTimes& times) {
    Vec target{step.to_x, 0, step.to_z};
    if (step.kind == StepKind::walk_in) target = {};
    if (step.kind == StepKind::walk_out) target = phone_place(script_->camera);
    const Posture posture = walking_posture(*bones_);
    if (t == 0) t = 0.15;
    face(unwrapped(heading_towards(feet_->place(), target), feet_->heading(), std::nullopt), t);
    times.arrive_s = t;
    if (blends_.empty() || blends_.back().end_s <= t) blend_to(t, t + 0.6, posture);
    const double end = feet_->walk(t, target, step.cadence, step.step_m, posture.foot);
    walks_.emplace_back(t, end);
    t = std::max(end, blends_.empty() ? end : blends_.back().end_s);
    times.depart_s = t;
}

void Timeline::plan_pose(const Step& step, double& t, StepTimes& times) {
    const Posture posture = pose_posture(step.pose, *bones_);
    if (times.step == 0) {  // the film begins in this pose
        times.depart_s = t = step.hold_s;
        return;
    }
    const bool no_pose = step.kind != StepKind::pose;
    const double wanted = no_pose ? 0 : radians(pose_heading(step.pose));
    const bool keep = no_pose && !step.turn_right && walks_.size() > 0 &&
                      std::abs(std::remainder(wanted - feet_->heading(), 2 * std::numbers::pi)) < 0.02;
    const double heading = keep ? feet_->heading() : unwrapped(wanted, feet_->heading(), step.turn_right);
    const double turn = std::abs(heading - feet_->heading());
    int count = 0;
    if (turn > 0.05)
        count = step.turn_steps.value_or(std::max(2, 2 * static_cast<int>(std::lround(turn / radians(90)))));
    const int moves = count > 0 ? count : feet_->moves_needed(heading, posture.foot);
    const double move = step.move_s.value_or(std::max(0.9, 0.3 + 0.45 * moves));
    if (moves > 0) feet_->turn(t, t + 0.92 * move, heading, posture.foot, count);
    blend_to(t + 0.06 * move, t + move, posture);
    times.arrive_s = t + move;
    times.depart_s = t = times.arrive_s + step.hold_s;
}

void Timeline::blend_to(double start_s, double end_s, const Posture& posture) {
    blends_.push_back({start_s, end_s, posture});
}

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

void Timeline::wobble(double t, Posture& posture, Stand& stand) const {
    const auto now = std::find_if(times_.begin(), times_.end(),
                                  [&](const StepTimes& s) { return t >= s.arrive_s && t <= s.depart_s; });
    if (now == times_.end()) return;
    const double ramp = std::min(0.6, 0.25 * (now->depart_s - now->arrive_s));
    const double soft =
        smooth_step(now->arrive_s, now->arrive_s + ramp, t) * (1 - smooth_step(now->depart_s - ramp, now->depart_s, t));
    const double since = t - now->arrive_s;
    for (const Disturbance& d : script_->steps[now->step].disturb) {
        const double wave = soft * d.size * std::sin(2 * std::numbers::pi * d.hz * since);
        const auto each_arm = [&](auto&& change) {
            for (int arm = 0; arm < 2; ++arm)
                if (d.arm == 2 || d.arm == arm) change(posture.arm[static_cast<std::size_t>(arm)]);
        };
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
                each_arm([&](ArmPosture& arm) { arm.elbow += 0.001 * wave / bones_->forearm; });
                break;
            case Wobble::drift_arm:
                each_arm([&](ArmPosture& arm) {
                    const double down = radians(d.size) * minimum_jerk(since / (now->depart_s - now->arrive_s));
                    arm.upper = quat_of(rolled(down) * frame_of(arm.upper));
                });
                break;
            case Wobble::fidget_hand:
                each_arm([&](ArmPosture& arm) {
                    double a = 0, b = 0;
                    for (const Sine& sine : fidget_) {
                        a += sine.size * std::sin(6.283 * sine.hz * d.hz * since + sine.phase);
                        b += sine.size * std::sin(6.283 * sine.hz * d.hz * since * 1.13 + 2 * sine.phase);
                    }
                    arm.elbow = std::max(0.02, arm.elbow + soft * 0.01 * d.size * a / bones_->forearm);
                    arm.hand = quat_of(frame_of(arm.hand) * rolled(soft * 0.05 * d.size * b) *
                                       pitched(soft * 0.05 * d.size * a));
                });
                break;
        }
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
