#pragma once
/// A clip's landmarks as the measures use them: true seconds, upright, left and right as they are in the room, shake
/// taken away, what was not seen marked as such.
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "body/landmark_series.hpp"

namespace quarterturn::body {

/// Pixels of the upright picture, x to the right, y downwards.
struct CoursePoint {
    double x = 0, y = 0;
    double seen = 0;  ///< 0..1: not hidden and inside the picture; hidden points are guesses of the network
};

struct CourseFrame {
    std::int64_t pts = 0;
    double t_s = 0;        ///< true seconds from the clip's first picture
    bool present = false;  ///< somebody was seen; else points mean nothing
    bool held = false;     ///< see LandmarkFrame
    bool company = false;  ///< see LandmarkFrame
    std::array<CoursePoint, landmark_count> points;
    std::array<WorldPoint, landmark_count> world;
    double height_px = 0;  ///< the body's height as it would stand here; > 0 where present

    [[nodiscard]] const CoursePoint& operator[](Joint joint) const { return points[static_cast<std::size_t>(joint)]; }
    [[nodiscard]] const WorldPoint& in_room(Joint joint) const { return world[static_cast<std::size_t>(joint)]; }
};

struct BodyCourse {
    std::vector<CourseFrame> frames;
    int width = 0, height = 0;  ///< picture, pixels
    double tilt_deg = 0;        ///< how far the body stood turned clockwise in the picture; taken away already
    bool tilt_estimated = false;
    double height_px = 0;       ///< median over the clip; 0 when nobody was seen
    double height_error = 0.1;  ///< share of height_px, one standard deviation
};

/// How the picture has moved at a time since the first, as the room's walls show it: turned clockwise about its middle,
/// then shifted by pixels.
struct Shake {
    double t_s = 0, x = 0, y = 0;
    double turn_rad = 0;
};

/// Between the times the way is straight, beyond the ends it stands. `shake` not empty, by time.
[[nodiscard]] Shake shake_at(const std::vector<Shake>& shake, double t_s);

/// Where a pixel would be had the phone stood still.
[[nodiscard]] Point steadied(Point pixel, const Shake& shake, double picture_width, double picture_height);

struct CourseSettings {
    bool mirrored = false;           ///< the film shows left and right swapped
    std::optional<double> tilt_deg;  ///< set by a person: turned clockwise by so much it is upright; absent: estimated
    double time_scale = 1;           ///< true seconds per stored second
    std::vector<Shake> shake;        ///< by time (true seconds); empty: the phone stood still
};

[[nodiscard]] BodyCourse course_of(const LandmarkSeries& series, const CourseSettings& settings = {});

/// Middle between two points; seen as well as the worse one.
[[nodiscard]] CoursePoint middle(const CoursePoint& a, const CoursePoint& b);
[[nodiscard]] double distance(const CoursePoint& a, const CoursePoint& b);
/// Both wrists at the head, below or behind it, elbows up. There the network is often wrong about shoulders and elbows,
/// while hands, legs and feet are found as well as ever.
[[nodiscard]] bool hands_behind_head(const CourseFrame& frame);
/// Landmark of the other side: left shoulder for right shoulder; the nose for the nose.
[[nodiscard]] Joint other_side(Joint joint);

}  // namespace quarterturn::body
