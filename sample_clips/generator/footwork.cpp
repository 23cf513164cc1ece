#include "footwork.hpp"

#include <algorithm>

namespace quarterturn::sample {

double ball_ahead_of_hip(const Bones& bones) {
    return bones.ankle_to_ball - 0.028 * bones.height;
}

Footwork::Footwork(const Bones& bones, Vec place, double heading, const std::array<FootPlace, 2>& feet)
    : bones_(bones), place_(place), heading_(heading), initial_{}, standing_{} {
    for (int foot = 0; foot < 2; ++foot) {
        const auto i = static_cast<std::size_t>(foot);
        standing_[i] = {ball_of(foot, place, heading, feet[i]), heading, radians(feet[i].turned)};
    }
    initial_ = standing_;
}

Vec Footwork::ball_of(int foot, Vec place, double heading, const FootPlace& feet) const {
    const double side = foot == 0 ? 1 : -1;
    const double turned = radians(feet.turned);
    // the stance is described by where the foot's middle stands; turning the toes out carries the ball outwards
    const double ahead = ball_ahead_of_hip(bones_);
    return place + yawed(heading) * Vec{side * (feet.out + 0.6 * ahead * std::sin(turned)), 0,
                                        feet.ahead + ahead * std::cos(turned)};
}

void Footwork::add(int foot, double lift_s, double land_s, Vec to, double heading, double turned, double height) {
    const auto i = static_cast<std::size_t>(foot);
    Standing& now = standing_[i];
    of_foot_[i].push_back(steps_.size());
    steps_.push_back({foot, lift_s, land_s, now.ball, to, now.heading, heading, now.turned, turned, height});
    now = {to, heading, turned};
}

int Footwork::moves_needed(double heading, const std::array<FootPlace, 2>& feet) const {
    int moves = 0;
    for (int foot = 0; foot < 2; ++foot) {
        const auto i = static_cast<std::size_t>(foot);
        const bool moved = length(ball_of(foot, place_, heading, feet[i]) - standing_[i].ball) > 0.012;
        const bool turned = std::abs(heading - standing_[i].heading) > 0.05 ||
                            std::abs(radians(feet[i].turned) - standing_[i].turned) > 0.05;
        moves += moved || turned ? 1 : 0;
    }
    return moves;
}

void Footwork::turn(double start_s, double end_s, double heading, const std::array<FootPlace, 2>& feet, int count) {
    const double angle = heading - heading_;
    const bool only_needed = count == 0;
    std::vector<int> order;
    const int first = angle > 0 ? 1 : 0;  // the foot on the side of the turn opens it
    for (int k = 0; k < (only_needed ? 2 : count); ++k) order.push_back((first + k) % 2);
    if (only_needed) {
        std::erase_if(order, [&](int foot) {
            const auto i = static_cast<std::size_t>(foot);
            return length(ball_of(foot, place_, heading, feet[i]) - standing_[i].ball) < 0.012 &&
                   std::abs(radians(feet[i].turned) - standing_[i].turned) < 0.05;
        });
    }
    std::array<int, 2> total{}, done{};
    for (const int foot : order) ++total[static_cast<std::size_t>(foot)];
    const double period = (end_s - start_s) / std::max<double>(1, static_cast<double>(order.size()));
    for (std::size_t k = 0; k < order.size(); ++k) {
        const auto i = static_cast<std::size_t>(order[k]);
        const double part = static_cast<double>(++done[i]) / total[i];
        const double from = start_s + period * static_cast<double>(k);
        FootPlace place = feet[i];
        place.turned = degrees(mix(standing_[i].turned, radians(feet[i].turned), part));
        const double to_heading = heading_ + angle * part;
        add(order[k], from, from + 0.92 * period, ball_of(order[k], place_, to_heading, place), to_heading,
            radians(place.turned), 0.032);
    }
    heading_ = heading;
}

double Footwork::walk(double start_s, Vec target, double cadence, double step_m, const std::array<FootPlace, 2>& feet) {
    const Vec way = target - place_;
    const double distance = length(way);
    const int count = std::max(1, static_cast<int>(std::ceil(distance / step_m - 0.2)));
    const double period = 60 / cadence;
    const Vec from = place_;
    for (int k = 1; k <= count + 1; ++k) {
        const int foot = k % 2;
        const auto i = static_cast<std::size_t>(foot);
        const double part = std::min(1.0, static_cast<double>(k) / count);
        const double lift = start_s + period * (k - 1);
        add(foot, lift, lift + 0.80 * period, ball_of(foot, from + part * way, heading_, feet[i]), heading_,
            radians(feet[i].turned), 0.05);
    }
    place_ = target;
    return steps_.back().land_s;
}

FootTrack Footwork::at(int foot, double t) const {
    const auto i = static_cast<std::size_t>(foot);
    const std::vector<std::size_t>& list = of_foot_[i];
    const auto after =
        std::partition_point(list.begin(), list.end(), [&](std::size_t s) { return steps_[s].lift_s <= t; });
    if (after == list.begin()) return {initial_[i].ball, initial_[i].heading, initial_[i].turned, 0};
    const FootStep& step = steps_[*(after - 1)];
    const double s = std::clamp((t - step.lift_s) / (step.land_s - step.lift_s), 0.0, 1.0);
    const double moved = minimum_jerk(s), arc = 16 * s * s * (1 - s) * (1 - s);
    FootTrack out{mix(step.from, step.to, moved), mix(step.heading_from, step.heading_to, moved),
                  mix(step.turned_from, step.turned_to, moved), arc};
    out.ball.y = step.height * arc;
    return out;
}

}  // namespace quarterturn::sample
