#include "timeline.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::sample {
namespace {

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

}  // namespace quarterturn::sample
