#include "app/joints.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quarterturn::app {

std::vector<NamedSpot> joints_at(const OpenClip& clip, std::int64_t pts) {
    if (!clip.joints || clip.joints->pts.empty()) return {};
    const auto& times = clip.joints->pts;
    const auto after = std::lower_bound(times.begin(), times.end(), pts);
    std::size_t nearest = static_cast<std::size_t>(after - times.begin());
    if (nearest == times.size() || (nearest > 0 && pts - times[nearest - 1] < times[nearest] - pts)) --nearest;
    if (std::abs(clip.seconds_of(times[nearest]) - clip.seconds_of(pts)) > 1.0 / 6) return {};
    return clip.joints->joints[nearest];
}

const std::vector<std::pair<std::string_view, std::string_view>>& bones() {
    static const std::vector<std::pair<std::string_view, std::string_view>> pairs{
        {"left_shoulder", "right_shoulder"}, {"left_hip", "right_hip"},         {"left_shoulder", "left_elbow"},
        {"left_elbow", "left_wrist"},        {"right_shoulder", "right_elbow"}, {"right_elbow", "right_wrist"},
        {"left_shoulder", "left_hip"},       {"right_shoulder", "right_hip"},   {"left_hip", "left_knee"},
        {"left_knee", "left_ankle"},         {"right_hip", "right_knee"},       {"right_knee", "right_ankle"},
        {"left_ankle", "left_foot_tip"},     {"right_ankle", "right_foot_tip"}};
    return pairs;
}

bool note_is_on_screen(const OpenClip& clip, const journal::Note& note, std::int64_t pts) {
    if (!note.moment) return false;
    const double at = clip.seconds_of(pts);
    const double from = clip.seconds_of(note.moment->start_pts);
    if (note.moment->end_pts) return at >= from && at <= clip.seconds_of(*note.moment->end_pts);
    return std::abs(at - from) <= 0.5;
}

std::optional<body::Point> hips_at(const OpenClip& clip, std::int64_t pts) {
    const auto joints = joints_at(clip, pts);
    const auto* left = find_joint(joints, "left_hip");
    const auto* right = find_joint(joints, "right_hip");
    if (left == nullptr || right == nullptr) return std::nullopt;
    return body::Point{(left->spot.x + right->spot.x) / 2 * clip.info.shown_width(),
                       (left->spot.y + right->spot.y) / 2 * clip.info.shown_height()};
}

const NamedSpot* find_joint(const std::vector<NamedSpot>& joints, std::string_view name) {
    const auto found = std::find_if(joints.begin(), joints.end(), [&](const NamedSpot& j) { return j.name == name; });
    return found == joints.end() ? nullptr : &*found;
}

std::optional<double> tilt_deg(const NamedSpot* a, const NamedSpot* b, double aspect) {
    if (a == nullptr || b == nullptr) return std::nullopt;
    if (a->spot.x > b->spot.x) std::swap(a, b);
    const double dx = (b->spot.x - a->spot.x) * aspect;
    const double dy = b->spot.y - a->spot.y;
    if (std::hypot(dx, dy) < 1e-6) return std::nullopt;
    return std::atan2(dy, dx) * 180 / std::numbers::pi;
}

}  // namespace quarterturn::app
