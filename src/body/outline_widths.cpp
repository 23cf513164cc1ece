#include "body/outline_widths.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

namespace quarterturn::body {
namespace {

// Upper arms further from the vertical make the outline at the shoulders wider than the shoulders are.
constexpr double hangs_within_deg = 35;
// An outline nearer to the bones of an arm than this share of the height is the arm's.
constexpr double arm_half_share = 0.04;
// Rows that arms may touch: with more the narrowest place may be hidden.
constexpr double touched_share = 0.15;
// From shoulders (0) to hips (1).
constexpr double waist_from = 0.35, waist_to = 0.85, hips_from = 0.85, hips_to = 1.2;
constexpr double shoulder_depth_share = 0.15;
constexpr std::size_t shoulder_rows = 6, smoothed_rows = 5, fewest_rows = 8;

Point point_of(const Body& body, Joint joint) {
    return {static_cast<double>(body[joint].x), static_cast<double>(body[joint].y)};
}

double distance_to(Point p, Point a, Point b) {
    const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
    const double along = square > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0;
    return std::hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

class Outline {
  public:
    Outline(const TorsoPicture& picture, const Body& body, double height_px)
        : picture_(picture), body_(body), arm_half_(arm_half_share * height_px) {}

    [[nodiscard]] OutlineWidth shoulders() const {
        if (!hangs(Joint::left_shoulder, Joint::left_elbow) || !hangs(Joint::right_shoulder, Joint::right_elbow))
            return {std::nullopt, "the arms do not hang beside the shoulders"};
        const double across = std::abs(picture_.left_shoulder.x - picture_.right_shoulder.x);
        double sum = 0;
        for (std::size_t i = 0; i < shoulder_rows; ++i) {
            const double below =
                shoulder_depth_share * across * static_cast<double>(i) / static_cast<double>(shoulder_rows - 1);
            const auto width = width_at(picture_.shoulders().y + below);
            if (!width) return {std::nullopt, "the outline at the shoulders was not found"};
            sum += *width;
        }
        return {sum / static_cast<double>(shoulder_rows), ""};
    }

    [[nodiscard]] OutlineWidth waist() const {
        const auto widths = trunk_widths(waist_from, waist_to);
        if (widths.empty()) return {std::nullopt, "the arms cover the outline of the waist"};
        return {*std::min_element(widths.begin(), widths.end()), ""};
    }

    [[nodiscard]] OutlineWidth hips() const {
        const auto widths = trunk_widths(hips_from, hips_to);
        if (widths.empty()) return {std::nullopt, "the hands cover the outline of the hips"};
        return {*std::max_element(widths.begin(), widths.end()), ""};
    }

  private:
    [[nodiscard]] bool hangs(Joint shoulder, Joint elbow) const {
        const Point a = point_of(body_, shoulder), b = point_of(body_, elbow);
        return b.y > a.y && std::abs(b.x - a.x) < std::tan(hangs_within_deg * std::numbers::pi / 180) * (b.y - a.y);
    }

    [[nodiscard]] std::optional<double> width_at(double y) const {
        const auto left = picture_.edges.left_at(y), right = picture_.edges.right_at(y);
        if (!left || !right) return std::nullopt;
        return *right - *left;
    }

    [[nodiscard]] bool on_an_arm(Point edge) const {
        constexpr std::array<std::pair<Joint, Joint>, 6> bones{{{Joint::left_shoulder, Joint::left_elbow},
                                                                {Joint::left_elbow, Joint::left_wrist},
                                                                {Joint::left_wrist, Joint::left_index_finger},
                                                                {Joint::right_shoulder, Joint::right_elbow},
                                                                {Joint::right_elbow, Joint::right_wrist},
                                                                {Joint::right_wrist, Joint::right_index_finger}}};
        return std::any_of(bones.begin(), bones.end(), [&](const auto& bone) {
            return distance_to(edge, point_of(body_, bone.first), point_of(body_, bone.second)) < arm_half_;
        });
    }

    /// Means over neighbouring rows between two heights; empty where arms touch the outline for most of them.
    [[nodiscard]] std::vector<double> trunk_widths(double from, double to) const {
        const double top = picture_.shoulders().y, length = picture_.hips().y - top;
        std::vector<std::optional<double>> rows;
        std::size_t free = 0;
        for (double y = top + from * length; y <= top + to * length; y += picture_.edges.spacing) {
            const auto left = picture_.edges.left_at(y), right = picture_.edges.right_at(y);
            const bool usable = left && right && !on_an_arm({*left, y}) && !on_an_arm({*right, y});
            rows.push_back(usable ? std::optional{*right - *left} : std::nullopt);
            free += usable ? 1 : 0;
        }
        std::vector<double> means;
        if (free < fewest_rows || static_cast<double>(free) < (1 - touched_share) * static_cast<double>(rows.size()))
            return means;
        for (std::size_t i = 0; i + smoothed_rows <= rows.size(); ++i) {
            double sum = 0;
            bool whole = true;
            for (std::size_t j = i; j < i + smoothed_rows; ++j) {
                whole = whole && rows[j];
                sum += rows[j].value_or(0);
            }
            if (whole) means.push_back(sum / static_cast<double>(smoothed_rows));
        }
        return means;
    }

    const TorsoPicture& picture_;
    const Body& body_;
    double arm_half_;
};

}  // namespace

OutlineWidths outline_widths(const TorsoPicture& picture, const Body& body, double height_px) {
    const Outline outline{picture, body, height_px};
    return {outline.shoulders(), outline.waist(), outline.hips()};
}

}  // namespace quarterturn::body
