#include "app/body_outline.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace quarterturn::app {
namespace {

using body::CourseFrame;
using body::Joint;
using body::Point;

constexpr double seen = 0.3;             // below this a landmark is a guess
constexpr double grid_share = 1.0 / 90;  // of the body's height: one cell

/// A limb: from one joint to another, thinner or thicker at each end.
struct Limb {
    Joint from, to;
    double from_r, to_r;  // body heights
};
constexpr std::array limbs{Limb{Joint::left_shoulder, Joint::left_elbow, 0.034, 0.025},
                           Limb{Joint::right_shoulder, Joint::right_elbow, 0.034, 0.025},
                           Limb{Joint::left_elbow, Joint::left_wrist, 0.025, 0.017},
                           Limb{Joint::right_elbow, Joint::right_wrist, 0.025, 0.017},
                           Limb{Joint::left_hip, Joint::left_knee, 0.055, 0.034},
                           Limb{Joint::right_hip, Joint::right_knee, 0.055, 0.034},
                           Limb{Joint::left_knee, Joint::left_ankle, 0.036, 0.022},
                           Limb{Joint::right_knee, Joint::right_ankle, 0.036, 0.022},
                           Limb{Joint::left_ankle, Joint::left_foot_tip, 0.022, 0.016},
                           Limb{Joint::right_ankle, Joint::right_foot_tip, 0.022, 0.016},
                           Limb{Joint::left_shoulder, Joint::right_shoulder, 0.032, 0.032},
                           Limb{Joint::left_hip, Joint::right_hip, 0.055, 0.055},
                           Limb{Joint::left_shoulder, Joint::left_hip, 0.040, 0.050},
                           Limb{Joint::right_shoulder, Joint::right_hip, 0.040, 0.050},
                           Limb{Joint::left_shoulder, Joint::right_hip, 0.040, 0.060},
                           Limb{Joint::right_shoulder, Joint::left_hip, 0.040, 0.060}};

struct Capsule {
    Point a, b;
    double ra, rb;
    [[nodiscard]] double outside(Point p) const {
        const double dx = b.x - a.x, dy = b.y - a.y;
        const double length2 = std::max(1e-9, dx * dx + dy * dy);
        const double t = std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length2, 0.0, 1.0);
        return std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy) - (ra + t * (rb - ra));
    }
};

std::vector<Capsule> capsules(const CourseFrame& body) {
    std::vector<Capsule> out;
    const auto is_seen = [&](Joint joint) { return body[joint].seen >= seen; };
    const auto at = [&](Joint joint) { return Point{body[joint].x, body[joint].y}; };
    const double h = body.height_px;
    for (const Limb& limb : limbs)
        if (is_seen(limb.from) && is_seen(limb.to))
            out.push_back({at(limb.from), at(limb.to), limb.from_r * h, limb.to_r * h});
    // Hands go on where the forearms point.
    for (const auto& [elbow, wrist] :
         {std::pair{Joint::left_elbow, Joint::left_wrist}, std::pair{Joint::right_elbow, Joint::right_wrist}}) {
        if (!is_seen(elbow) || !is_seen(wrist)) continue;
        const Point e = at(elbow), w = at(wrist);
        const double length = std::max(1.0, std::hypot(w.x - e.x, w.y - e.y));
        const double on = 0.06 * h / length;
        out.push_back({w, {w.x + on * (w.x - e.x), w.y + on * (w.y - e.y)}, 0.020 * h, 0.016 * h});
    }
    const Joint l = Joint::left_shoulder, r = Joint::right_shoulder;
    if (!is_seen(l) || !is_seen(r)) return out;
    const Point neck{(at(l).x + at(r).x) / 2, (at(l).y + at(r).y) / 2};
    // Between the limbs of the trunk lies its middle.
    if (is_seen(Joint::left_hip) && is_seen(Joint::right_hip)) {
        const Point hips{(at(Joint::left_hip).x + at(Joint::right_hip).x) / 2,
                         (at(Joint::left_hip).y + at(Joint::right_hip).y) / 2};
        out.push_back({neck, hips, 0.05 * h, 0.06 * h});
    }
    const Point nose{body[Joint::nose].x, body[Joint::nose].y};
    if (std::hypot(nose.x - neck.x, nose.y - neck.y) > 0.25 * h) return out;
    // The skull reaches above the nose.
    const Point crown{nose.x, nose.y - 0.035 * h};
    out.push_back({crown, nose, 0.05 * h, 0.042 * h});
    out.push_back({nose, neck, 0.03 * h, 0.035 * h});
    return out;
}

/// Where the outline crosses the cells of a grid: marching squares over the distance to the nearest limb.
class Grid {
  public:
    explicit Grid(const std::vector<Capsule>& parts, double step) : step_(step) {
        Point low{1e9, 1e9}, high{-1e9, -1e9};
        for (const Capsule& part : parts)
            for (const auto& [p, r] : {std::pair{part.a, part.ra}, std::pair{part.b, part.rb}}) {
                low = {std::min(low.x, p.x - r), std::min(low.y, p.y - r)};
                high = {std::max(high.x, p.x + r), std::max(high.y, p.y + r)};
            }
        origin_ = {low.x - 2 * step, low.y - 2 * step};
        width_ = static_cast<std::size_t>((high.x - low.x) / step) + 5;
        height_ = static_cast<std::size_t>((high.y - low.y) / step) + 5;
        values_.assign(width_ * height_, 1e9);
        for (const Capsule& part : parts) lay(part);
    }

    [[nodiscard]] std::vector<std::pair<Point, Point>> lines() const {
        std::vector<std::pair<Point, Point>> out;
        for (std::size_t j = 0; j + 1 < height_; ++j)
            for (std::size_t i = 0; i + 1 < width_; ++i) cell(i, j, out);
        return out;
    }

  private:
    [[nodiscard]] double value(std::size_t i, std::size_t j) const { return values_[j * width_ + i]; }
    [[nodiscard]] Point place(std::size_t i, std::size_t j) const {
        return {origin_.x + static_cast<double>(i) * step_, origin_.y + static_cast<double>(j) * step_};
    }
    void lay(const Capsule& part) {
        const double reach = std::max(part.ra, part.rb) + 2 * step_;
        const auto first = [&](double at, double from) {
            return static_cast<std::size_t>(std::max(0.0, (at - reach - from) / step_));
        };
        const auto last = [&](double at, double from, std::size_t size) {
            return std::min(size, static_cast<std::size_t>(std::max(0.0, (at + reach - from) / step_)) + 2);
        };
        for (std::size_t j = first(std::min(part.a.y, part.b.y), origin_.y);
             j < last(std::max(part.a.y, part.b.y), origin_.y, height_); ++j)
            for (std::size_t i = first(std::min(part.a.x, part.b.x), origin_.x);
                 i < last(std::max(part.a.x, part.b.x), origin_.x, width_); ++i) {
                double& here = values_[j * width_ + i];
                here = std::min(here, part.outside(place(i, j)));
            }
    }
    void cell(std::size_t i, std::size_t j, std::vector<std::pair<Point, Point>>& out) const {
        struct Corner {
            std::size_t i, j;
        };
        const std::array<Corner, 4> corners{{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}};
        std::array<Point, 4> crossings;
        std::size_t count = 0;
        for (std::size_t k = 0; k < 4; ++k) {
            const Corner a = corners[k], b = corners[(k + 1) % 4];
            const double va = value(a.i, a.j), vb = value(b.i, b.j);
            if ((va < 0) == (vb < 0)) continue;
            const double t = std::clamp(va / (va - vb), 0.0, 1.0);
            const Point p = place(a.i, a.j), q = place(b.i, b.j);
            crossings[count++] = {p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
        }
        for (std::size_t k = 0; k + 1 < count; k += 2) out.emplace_back(crossings[k], crossings[k + 1]);
    }

    double step_;
    Point origin_;
    std::size_t width_ = 0, height_ = 0;
    std::vector<double> values_;
};

}  // namespace

std::optional<CourseFrame> body_at(const body::BodyCourse& course, double at_s) {
    const auto later = std::lower_bound(course.frames.begin(), course.frames.end(), at_s,
                                        [](const CourseFrame& f, double t) { return f.t_s < t; });
    const auto near = [&](auto frame) { return frame->present && std::abs(frame->t_s - at_s) < 0.2; };
    const bool after = later != course.frames.end() && near(later);
    const bool before = later != course.frames.begin() && near(std::prev(later));
    if (!after && !before) return std::nullopt;
    if (!after) return *std::prev(later);
    if (!before) return *later;
    CourseFrame out = *std::prev(later);
    const double share = (at_s - out.t_s) / std::max(1e-9, later->t_s - out.t_s);
    for (std::size_t i = 0; i < out.points.size(); ++i) {
        auto& p = out.points[i];
        const auto& q = later->points[i];
        p = {p.x + share * (q.x - p.x), p.y + share * (q.y - p.y), std::min(p.seen, q.seen)};
    }
    out.t_s = at_s;
    return out;
}

std::vector<std::pair<Point, Point>> body_outline(const CourseFrame& body) {
    const auto parts = capsules(body);
    if (parts.empty() || body.height_px <= 0) return {};
    return Grid(parts, body.height_px * grid_share).lines();
}

}  // namespace quarterturn::app
