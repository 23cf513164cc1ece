#include "body/course.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "body/scale.hpp"

namespace quarterturn::body {
namespace {

constexpr double degree = std::numbers::pi / 180;
/// A smaller tilt cannot be told from a body that does not stand quite straight.
constexpr double least_tilt_deg = 1.5;

bool inside(const Landmark& mark, const LandmarkSeries& series) {
    return mark.x >= 0 && mark.y >= 0 && mark.x <= static_cast<float>(series.width) &&
           mark.y <= static_cast<float>(series.height);
}

void mirror(CourseFrame& frame, double width) {
    for (std::size_t i = 0; i < landmark_count; ++i) {
        frame.points[i].x = width - frame.points[i].x;
        frame.world[i].x = -frame.world[i].x;
    }
    for (std::size_t i = 0; i < landmark_count; ++i) {
        const auto other = static_cast<std::size_t>(other_side(static_cast<Joint>(i)));
        if (other <= i) continue;
        std::swap(frame.points[i], frame.points[other]);
        std::swap(frame.world[i], frame.world[other]);
    }
}

CourseFrame frame_of(const LandmarkFrame& seen, const LandmarkSeries& series, const CourseSettings& settings) {
    CourseFrame frame;
    frame.pts = seen.pts;
    frame.t_s = seen.t_s * settings.time_scale;
    frame.held = seen.held;
    frame.company = seen.company;
    frame.present = seen.body.has_value();
    if (!seen.body) return frame;
    const Shake shake = settings.shake.empty() ? Shake{} : shake_at(settings.shake, frame.t_s);
    for (std::size_t i = 0; i < landmark_count; ++i) {
        const Landmark& mark = seen.body->landmarks[i];
        const double visible = inside(mark, series) ? static_cast<double>(std::min(mark.visibility, mark.presence)) : 0;
        const Point at =
            steadied({static_cast<double>(mark.x), static_cast<double>(mark.y)}, shake, series.width, series.height);
        frame.points[i] = {at.x, at.y, visible};
    }
    frame.world = seen.body->world;
    if (settings.mirrored) mirror(frame, series.width);
    return frame;
}

/// Turns the picture about its middle so that `tilt_deg` clockwise becomes upright.
void set_upright(BodyCourse& course) {
    const double cosine = std::cos(-course.tilt_deg * degree), sine = std::sin(-course.tilt_deg * degree);
    const double cx = course.width / 2.0, cy = course.height / 2.0;
    for (CourseFrame& frame : course.frames) {
        for (CoursePoint& p : frame.points) {
            const double x = p.x - cx, y = p.y - cy;
            p.x = cx + cosine * x - sine * y;
            p.y = cy + sine * x + cosine * y;
        }
        for (WorldPoint& p : frame.world) {
            const double x = static_cast<double>(p.x), y = static_cast<double>(p.y);
            p.x = static_cast<float>(cosine * x - sine * y);
            p.y = static_cast<float>(sine * x + cosine * y);
        }
    }
}

/// Median lean of the line from between the ankles to between the shoulders, while she stands broad to the phone.
std::optional<double> standing_tilt(const BodyCourse& course) {
    std::vector<double> leans;
    for (const CourseFrame& frame : course.frames) {
        if (!frame.present) continue;
        const CoursePoint shoulders = middle(frame[Joint::left_shoulder], frame[Joint::right_shoulder]);
        const CoursePoint ankles = middle(frame[Joint::left_ankle], frame[Joint::right_ankle]);
        const double broad = distance(frame[Joint::left_shoulder], frame[Joint::right_shoulder]);
        const double tall = distance(shoulders, ankles);
        if (std::min(shoulders.seen, ankles.seen) < 0.5 || broad < 0.2 * tall) continue;
        leans.push_back(std::atan2(shoulders.x - ankles.x, ankles.y - shoulders.y) / degree);
    }
    if (leans.size() < 15) return std::nullopt;
    const auto half = leans.begin() + static_cast<std::ptrdiff_t>(leans.size() / 2);
    std::nth_element(leans.begin(), half, leans.end());
    return *half;
}

}  // namespace

Shake shake_at(const std::vector<Shake>& shake, double t_s) {
    const auto later =
        std::lower_bound(shake.begin(), shake.end(), t_s, [](const Shake& s, double t) { return s.t_s < t; });
    if (later == shake.begin()) return *later;
    if (later == shake.end()) return shake.back();
    const Shake& before = *(later - 1);
    const double gap = later->t_s - before.t_s;
    const double share = gap > 0 ? (t_s - before.t_s) / gap : 1;
    const auto between = [share](double a, double b) { return a + share * (b - a); };
    return {t_s, between(before.x, later->x), between(before.y, later->y), between(before.turn_rad, later->turn_rad)};
}

Point steadied(Point pixel, const Shake& shake, double picture_width, double picture_height) {
    const double x = pixel.x - picture_width / 2 - shake.x, y = pixel.y - picture_height / 2 - shake.y;
    const double cosine = std::cos(shake.turn_rad), sine = std::sin(shake.turn_rad);
    return {picture_width / 2 + cosine * x + sine * y, picture_height / 2 - sine * x + cosine * y};
}

CoursePoint middle(const CoursePoint& a, const CoursePoint& b) {
    return {(a.x + b.x) / 2, (a.y + b.y) / 2, std::min(a.seen, b.seen)};
}

double distance(const CoursePoint& a, const CoursePoint& b) {
    return std::hypot(a.x - b.x, a.y - b.y);
}

Joint other_side(Joint joint) {
    const auto rank = static_cast<int>(joint);
    if (rank == 0) return joint;
    if (rank <= static_cast<int>(Joint::right_eye_outer)) return static_cast<Joint>(rank <= 3 ? rank + 3 : rank - 3);
    return static_cast<Joint>(rank % 2 == 1 ? rank + 1 : rank - 1);
}

BodyCourse course_of(const LandmarkSeries& series, const CourseSettings& settings) {
    BodyCourse course;
    course.width = series.width;
    course.height = series.height;
    for (const LandmarkFrame& frame : series.frames) course.frames.push_back(frame_of(frame, series, settings));
    if (settings.tilt_deg) {
        course.tilt_deg = settings.mirrored ? *settings.tilt_deg : -*settings.tilt_deg;
    } else if (const std::optional<double> tilt = standing_tilt(course); tilt && std::abs(*tilt) >= least_tilt_deg) {
        course.tilt_deg = *tilt;
        course.tilt_estimated = true;
    }
    if (course.tilt_deg != 0) set_upright(course);
    measure_scale(course);
    return course;
}

bool hands_behind_head(const CourseFrame& frame) {
    if (!frame.present) return false;
    const CoursePoint ears = middle(frame[Joint::left_ear], frame[Joint::right_ear]);
    const double near = 0.17 * frame.height_px;
    const auto raised = [&](Joint wrist, Joint elbow, Joint shoulder) {
        return distance(frame[wrist], ears) < near && frame[elbow].y < frame[shoulder].y;
    };
    return raised(Joint::left_wrist, Joint::left_elbow, Joint::left_shoulder) &&
           raised(Joint::right_wrist, Joint::right_elbow, Joint::right_shoulder);
}

}  // namespace quarterturn::body
