#include "body/facing_evidence.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quarterturn::body {
namespace {

constexpr double degree = std::numbers::pi / 180;

// How far each sign strays (one standard deviation of its middle part), tuned on the demo routines.
constexpr double strays_hips = 0.16;       // of the width; the network's hips follow the shoulders a little
constexpr double strays_shoulders = 0.22;  // the torso may be twisted against the pelvis
constexpr double strays_world_deg = 22;    // constant errors of up to 26 degrees in side views
constexpr double strays_feet = 0.035;      // body heights; feet are turned out, seldom evenly
constexpr double strays_nose = 0.03;       // body heights; the head turns to the judges
constexpr double foot_length = 0.105;      // heel to foot tip, body heights, with the feet turned out
constexpr double face_depth = 0.055;       // ears to nose, body heights
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

double nose_ahead(const CourseFrame& frame) {
    const CoursePoint ears = middle(frame[Joint::left_ear], frame[Joint::right_ear]);
    return (frame[Joint::nose].x - ears.x) / frame.height_px;
}

double percentile(std::vector<double> values, double share, double otherwise) {
    if (values.size() < 10) return otherwise;
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

}  // namespace

BodyWidths widths_of(const BodyCourse& course) {
    std::vector<double> shoulders, hips;
    for (const CourseFrame& frame : course.frames) {
        if (!frame.present) continue;
        shoulders.push_back(std::abs(apart(frame, Joint::left_shoulder, Joint::right_shoulder)));
        hips.push_back(std::abs(apart(frame, Joint::left_hip, Joint::right_hip)));
    }
    const BodyWidths usual;
    return {std::clamp(percentile(shoulders, 0.95, usual.shoulders), 0.14, 0.32),
            std::clamp(percentile(hips, 0.95, usual.hips), 0.07, 0.2)};
}

std::vector<double> facing_evidence(const CourseFrame& frame, const BodyWidths& widths) {
    const double hips = apart(frame, Joint::left_hip, Joint::right_hip) / widths.hips;
    const double shoulders = apart(frame, Joint::left_shoulder, Joint::right_shoulder) / widths.shoulders;
    const double hips_yaw = world_yaw(frame, Joint::left_hip, Joint::right_hip);
    const double shoulders_yaw = world_yaw(frame, Joint::left_shoulder, Joint::right_shoulder);
    const std::optional<double> feet = feet_ahead(frame);
    const double nose = nose_ahead(frame);
    std::vector<double> evidence(facing_steps);
    for (int step = 0; step < facing_steps; ++step) {
        const double yaw = step * facing_step_deg;
        const double across = std::cos(yaw * degree), along = -std::sin(yaw * degree);
        double sum = log_t((hips - across) / strays_hips) + 0.7 * log_t((shoulders - across) / strays_shoulders);
        sum += 0.7 * log_t(std::remainder(hips_yaw - yaw, 360.0) / strays_world_deg);
        sum += 0.4 * log_t(std::remainder(shoulders_yaw - yaw, 360.0) / strays_world_deg);
        if (feet) sum += log_t((*feet - foot_length * along) / strays_feet);
        sum += 0.5 * log_t((nose - face_depth * along) / strays_nose);
        evidence[static_cast<std::size_t>(step)] = sum;
    }
    return evidence;
}

}  // namespace quarterturn::body
