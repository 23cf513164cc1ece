#include "body/facing_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

namespace quarterturn::body {
namespace {

constexpr double degree = std::numbers::pi / 180;

// How far each sign strays (one standard deviation of its middle part), tuned on the demo routines.
constexpr double strays_hips = 0.13;       // of the width; the network's hips follow the shoulders a little
constexpr double strays_shoulders = 0.22;  // the torso may be twisted against the pelvis
constexpr double hips_in_profile = 0.2;    // of the width; so far apart they seem in profile, near hip behind
constexpr double world_free_deg = 25;      // constant errors of up to 26 degrees: it tells sides, not angles
constexpr double strays_world_deg = 20;
constexpr double strays_feet = 0.035;  // body heights; feet are turned out, seldom evenly
constexpr double strays_nose = 0.03;   // body heights; the head turns to the judges
constexpr double strays_tips = 0.4;    // of BodyWidths::tips_nearer
constexpr double strays_ears = 0.03;   // body heights; the head turns to the judges
constexpr double ears_width = 0.07;    // ear to ear, body heights
constexpr double foot_length = 0.105;  // heel to foot tip, body heights, with the feet turned out
constexpr double face_depth = 0.055;   // ears to nose, body heights
constexpr double seen_enough = 0.3;

/// Log of a t law with 3 degrees of freedom.
double log_t(double strayed) {
    return -2 * std::log1p(strayed * strayed / 3);
}

double apart(const CourseFrame& frame, Joint left, Joint right) {
    return (frame[left].x - frame[right].x) / frame.height_px;
}

double world_yaw(const CourseFrame& frame, Joint left, Joint right) {
    const WorldPoint& l = frame.in_room(left);
    const WorldPoint& r = frame.in_room(right);
    return std::atan2(static_cast<double>(r.z - l.z), static_cast<double>(l.x - r.x)) / degree;
}

std::optional<double> feet_ahead(const CourseFrame& frame) {
    const double left = std::min(frame[Joint::left_heel].seen, frame[Joint::left_foot_tip].seen);
    const double right = std::min(frame[Joint::right_heel].seen, frame[Joint::right_foot_tip].seen);
    if (left < seen_enough || right < seen_enough) return std::nullopt;
    return (apart(frame, Joint::left_foot_tip, Joint::left_heel) +
            apart(frame, Joint::right_foot_tip, Joint::right_heel)) /
           2;
}

/// Foot tips below the heels in the picture: they point to the phone, which looks down on them.
std::optional<double> tips_below(const CourseFrame& frame) {
    double sum = 0, weight = 0;
    for (const auto& [heel, tip] :
         {std::pair{Joint::left_heel, Joint::left_foot_tip}, std::pair{Joint::right_heel, Joint::right_foot_tip}}) {
        const double seen = std::min(frame[heel].seen, frame[tip].seen);
        if (seen < seen_enough) continue;
        sum += seen * (frame[tip].y - frame[heel].y) / frame.height_px;
        weight += seen;
    }
    return weight > 0 ? std::optional(sum / weight) : std::nullopt;
}

double nose_ahead(const CourseFrame& frame) {
    const CoursePoint ears = middle(frame[Joint::left_ear], frame[Joint::right_ear]);
    return (frame[Joint::nose].x - ears.x) / frame.height_px;
}

double over(double separation, double front, double behind) {
    return separation / (separation > 0 ? front : behind);
}

/// Directions told by the network's depth are off by so much without being wrong.
double beyond(double off_deg) {
    return std::max(0.0, std::abs(std::remainder(off_deg, 360.0)) - world_free_deg);
}

double percentile(std::vector<double> values, double share, double otherwise) {
    if (values.size() < 10) return otherwise;
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

}  // namespace

/// Separations seen with left at the right edge, and the other way round.
struct Sides {
    std::vector<double> front, behind, any;
    void add(double separation) {
        (separation > 0 ? front : behind).push_back(std::abs(separation));
        any.push_back(std::abs(separation));
    }
    [[nodiscard]] std::pair<double, double> widths(double otherwise, double least, double most) const {
        const double widest = std::clamp(percentile(any, 0.95, otherwise), least, most);
        const auto of = [&](const std::vector<double>& values) {
            const double own = percentile(values, 0.9, widest);
            // one that is much narrower was never shown broad
            return own > 0.85 * widest ? own : widest;
        };
        return {of(front), of(behind)};
    }
};

BodyWidths widths_of(const BodyCourse& course) {
    std::vector<double> tips;
    Sides shoulders, hips;
    for (const CourseFrame& frame : course.frames) {
        if (!frame.present) continue;
        shoulders.add(apart(frame, Joint::left_shoulder, Joint::right_shoulder));
        hips.add(apart(frame, Joint::left_hip, Joint::right_hip));
        if (const auto below = tips_below(frame)) tips.push_back(*below);
    }
    BodyWidths widths;
    const double most = percentile(tips, 0.95, widths.tips_level + widths.tips_nearer);
    const double least = percentile(tips, 0.05, widths.tips_level - widths.tips_nearer);
    constexpr double turned_about = 0.035;  // so much is only seen when both front and back were shown
    if (most - least > turned_about) widths.tips_level = (most + least) / 2;
    widths.tips_nearer = std::clamp(most - widths.tips_level, 0.01, 0.06);
    std::tie(widths.shoulders, widths.shoulders_behind) = shoulders.widths(widths.shoulders, 0.14, 0.32);
    std::tie(widths.hips, widths.hips_behind) = hips.widths(widths.hips, 0.07, 0.2);
    return widths;
}

std::vector<double> facing_evidence(const CourseFrame& frame, const BodyWidths& widths) {
    const double hips = over(apart(frame, Joint::left_hip, Joint::right_hip), widths.hips, widths.hips_behind);
    const double shoulders =
        over(apart(frame, Joint::left_shoulder, Joint::right_shoulder), widths.shoulders, widths.shoulders_behind);
    const double hips_yaw = world_yaw(frame, Joint::left_hip, Joint::right_hip);
    const double shoulders_yaw = world_yaw(frame, Joint::left_shoulder, Joint::right_shoulder);
    const std::optional<double> feet = feet_ahead(frame);
    const std::optional<double> soles = tips_below(frame);
    const double strays_soles = std::max(0.006, strays_tips * widths.tips_nearer);
    const double ears = apart(frame, Joint::left_ear, Joint::right_ear);
    const double nose = nose_ahead(frame);
    const double trunk = hands_behind_head(frame) ? 0.15 : 1;
    std::vector<double> evidence(facing_steps);
    for (int step = 0; step < facing_steps; ++step) {
        const double yaw = step * facing_step_deg;
        const double across = std::cos(yaw * degree), along = -std::sin(yaw * degree);
        double sum = trunk * log_t((hips - across - hips_in_profile * along * along) / strays_hips);
        sum += trunk * 0.7 * log_t((shoulders - across) / strays_shoulders);
        sum += trunk * 0.5 * log_t(beyond(hips_yaw - yaw) / strays_world_deg);
        sum += trunk * 0.4 * log_t(beyond(shoulders_yaw - yaw) / strays_world_deg);
        if (feet) sum += log_t((*feet - foot_length * along) / strays_feet);
        if (soles) sum += log_t((*soles - widths.tips_level - widths.tips_nearer * across) / strays_soles);
        sum += trunk * 0.7 * log_t((ears - ears_width * across) / strays_ears);
        sum += 0.5 * log_t((nose - face_depth * along) / strays_nose);
        evidence[static_cast<std::size_t>(step)] = sum;
    }
    return evidence;
}

}  // namespace quarterturn::body
