#include "compare/alignment.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quarterturn::compare {
namespace {

using enum body::Joint;
constexpr std::array stable{left_hip, right_hip, left_shoulder, right_shoulder, left_ankle, right_ankle};

constexpr double around_s = 0.25;
constexpr double seen_enough = 0.3;
/// A landmark further off than this is called bad, body heights.
constexpr double bad_point = 0.03;
constexpr double mirror_ratio = 0.6, mirror_least_pct = 3;
/// A part of the body this much nearer to the phone than the rest, this far from the middle: body heights.
constexpr double part_depth = 0.15, part_reach = 0.5;
constexpr double field_deg = 44;  // as the walk assumes it

double median(std::vector<double> values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

/// Distance of the phone in body heights.
double distance_of(const body::BodyCourse& course, double height_px) {
    const double focal = std::max(course.width, course.height) / 2.0 / std::tan(field_deg / 2 * std::numbers::pi / 180);
    return focal / height_px;
}

struct Matched {
    std::vector<Point> before, now;
    std::vector<double> weights;
    std::vector<body::Joint> joints;
};

template <class Joints>
Matched matched(const StillBody& before, const StillBody& now, const Joints& joints) {
    Matched out;
    for (const body::Joint joint : joints) {
        const double seen = std::min(before[joint].seen, now[joint].seen);
        if (seen < seen_enough) continue;
        out.before.push_back({before[joint].x, before[joint].y});
        out.now.push_back({now[joint].x, now[joint].y});
        out.weights.push_back(seen);
        out.joints.push_back(joint);
    }
    return out;
}

StillBody seen_by(const Alignment& alignment, const StillBody& before) {
    return alignment.before_to_now.mirrored ? mirrored(before, alignment.before_to_now.mirror_width) : before;
}

/// One film's turns going the other way than quarter turns do.
bool suggested(const Takes& takes) {
    return std::any_of(takes.begin(), takes.end(),
                       [](const Take& take) { return take.analysis->mirrored_suggested.value_or(false); });
}

/// Pairs that fit only mirrored, and those that could tell at all.
struct Votes {
    int mirrored = 0, all = 0;
};
Votes votes_of(const Takes& now, const Takes& before, const std::vector<Pair>& pairs) {
    Votes votes;
    for (const Pair& pair : pairs) {
        const auto a = still_body(now[pair.now.take], pair.now_still_s);
        const auto b = still_body(before[pair.before.take], pair.before_still_s);
        if (!a || !b) continue;
        const auto straight = align(*b, *a, before[pair.before.take], now[pair.now.take], false);
        const auto turned = align(*b, *a, before[pair.before.take], now[pair.now.take], true);
        const auto x = straight ? joint_distance_pct(*b, *a, *straight) : std::nullopt;
        const auto y = turned ? joint_distance_pct(*b, *a, *turned) : std::nullopt;
        if (!x || !y || std::max(*x, *y) < mirror_least_pct) continue;
        if (*y < mirror_ratio * *x) ++votes.mirrored;
        if (*y < mirror_ratio * *x || *x < mirror_ratio * *y) ++votes.all;
    }
    return votes;
}

}  // namespace

std::optional<StillBody> still_body(const Take& take, double at_s) {
    if (!take.course) return std::nullopt;
    std::vector<const body::CourseFrame*> near;
    const body::CourseFrame* nearest = nullptr;
    for (const body::CourseFrame& frame : take.course->frames) {
        if (!frame.present || !(frame.height_px > 0)) continue;
        if (std::abs(frame.t_s - at_s) <= around_s) near.push_back(&frame);
        if (nearest == nullptr || std::abs(frame.t_s - at_s) < std::abs(nearest->t_s - at_s)) nearest = &frame;
    }
    if (near.empty() && nearest != nullptr && std::abs(nearest->t_s - at_s) < 1) near.push_back(nearest);
    if (near.empty()) return std::nullopt;
    const auto middle_of = [&](const auto& value) {
        std::vector<double> values;
        for (const body::CourseFrame* frame : near) values.push_back(value(*frame));
        return median(std::move(values));
    };
    StillBody out;
    out.height_px = middle_of([](const body::CourseFrame& f) { return f.height_px; });
    for (std::size_t i = 0; i < body::landmark_count; ++i)
        out.points[i] = {middle_of([i](const body::CourseFrame& f) { return f.points[i].x; }),
                         middle_of([i](const body::CourseFrame& f) { return f.points[i].y; }),
                         middle_of([i](const body::CourseFrame& f) { return f.points[i].seen; })};
    return out;
}

StillBody mirrored(StillBody body, double picture_width) {
    const StillBody was = body;
    for (std::size_t i = 0; i < body::landmark_count; ++i) {
        body.points[i] = was[body::other_side(static_cast<body::Joint>(i))];
        body.points[i].x = picture_width - body.points[i].x;
    }
    return body;
}

std::optional<Alignment> align(const StillBody& before, const StillBody& now, const Take& before_take,
                               const Take& now_take, bool mirror) {
    const double width = before_take.course->width;
    const Matched points = matched(mirror ? mirrored(before, width) : before, now, stable);
    if (points.before.size() < 3) return std::nullopt;
    const auto fit = fit_robustly(points.before, points.now, points.weights, bad_point * now.height_px);
    if (!fit) return std::nullopt;
    std::vector<double> used = points.weights;
    Alignment out;
    if (fit->left_out) {
        used[*fit->left_out] = 0;
        out.left_out = points.joints[*fit->left_out];
    }
    out.before_to_now = fit->transform;
    out.before_to_now.mirrored = mirror;
    out.before_to_now.mirror_width = mirror ? width : 0;
    out.residual_body_pct =
        100 * std::sqrt(mean_squared_residual(fit->transform, points.before, points.now, used)) / now.height_px;
    const double far_now = distance_of(*now_take.course, now.height_px);
    const double far_before = distance_of(*before_take.course, before.height_px);
    out.perspective_body_pct = 100 * part_depth * part_reach * std::abs(1 / far_now - 1 / far_before);
    return out;
}

std::optional<double> joint_distance_pct(const StillBody& before, const StillBody& now, const Alignment& alignment) {
    const Matched points = matched(seen_by(alignment, before), now, body::main_joints);
    if (points.before.empty()) return std::nullopt;
    Similarity straight = alignment.before_to_now;
    straight.mirrored = false;  // the points are mirrored already
    std::vector<double> distances;
    for (std::size_t i = 0; i < points.before.size(); ++i) {
        const Point put = straight.apply(points.before[i]);
        distances.push_back(100 * std::hypot(put.x - points.now[i].x, put.y - points.now[i].y) / now.height_px);
    }
    return median(std::move(distances));
}

std::optional<Alignment> align_pair(const Pair& pair, const Takes& now, const Takes& before) {
    const Take &now_take = now[pair.now.take], &before_take = before[pair.before.take];
    const auto a = still_body(now_take, pair.now_still_s);
    const auto b = still_body(before_take, pair.before_still_s);
    if (!a || !b) return std::nullopt;
    const auto straight = align(*b, *a, before_take, now_take, false);
    const auto turned = align(*b, *a, before_take, now_take, true);
    if (!straight || !turned) return straight ? straight : turned;
    if (pair.other_side) return turned;
    const auto x = joint_distance_pct(*b, *a, *straight), y = joint_distance_pct(*b, *a, *turned);
    const bool clearly = x && y && *x > mirror_least_pct && *y < mirror_ratio * *x;
    return clearly ? turned : straight;
}

MirrorOffer mirror_offer(const Takes& now, const Takes& before, const std::vector<Pair>& pairs) {
    const bool of_now = suggested(now), of_before = suggested(before);
    const std::string turns = " turns the other way than quarter turns go, so it seems to be mirrored.";
    if (of_now != of_before)
        return of_now ? MirrorOffer{MirrorHint::now, "In this film the athlete" + turns}
                      : MirrorOffer{MirrorHint::before, "In the earlier film the athlete" + turns};
    const Votes votes = votes_of(now, before, pairs);
    if (votes.mirrored >= 2 && 3 * votes.mirrored >= 2 * votes.all)
        return {MirrorHint::before, "Most poses fit only mirrored, so one of the two films seems to be mirrored."};
    return {};
}

}  // namespace quarterturn::compare
