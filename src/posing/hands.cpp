#include "posing/hands.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace quarterturn::posing {
namespace {

using body::CourseFrame;
using body::CoursePoint;
using enum body::Joint;

constexpr double seen_enough = 0.5;
constexpr const char* hidden = "the hand is hidden";

struct HandPlace {
    double t_s = 0, x = 0, y = 0;  ///< body heights
};

CoursePoint hand_of(const CourseFrame& frame, std::size_t side) {
    constexpr std::array<std::array<body::Joint, 4>, 2> marks{
        std::array{left_wrist, left_thumb, left_index_finger, left_little_finger},
        std::array{right_wrist, right_thumb, right_index_finger, right_little_finger}};
    CoursePoint hand{0, 0, frame[marks[side][0]].seen};
    for (const body::Joint mark : marks[side]) {
        hand.x += frame[mark].x / 4;
        hand.y += frame[mark].y / 4;
    }
    return hand;
}

std::vector<HandPlace> places_of(const body::BodyCourse& course, std::size_t side, const Stretch& stretch) {
    std::vector<HandPlace> out;
    for (const CourseFrame& frame : course.frames) {
        if (!frame.present || frame.t_s < stretch.start_s || frame.t_s > stretch.end_s) continue;
        const CoursePoint hand = hand_of(frame, side);
        if (hand.seen >= seen_enough) out.push_back({frame.t_s, hand.x / frame.height_px, hand.y / frame.height_px});
    }
    return out;
}

std::size_t pictures_in(const body::BodyCourse& course, const Stretch& stretch) {
    return static_cast<std::size_t>(std::count_if(course.frames.begin(), course.frames.end(), [&](const auto& frame) {
        return frame.present && frame.t_s >= stretch.start_s && frame.t_s <= stretch.end_s;
    }));
}

double median(std::vector<double> values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

/// RMS about the running mean of a second.
double wandering(const std::vector<HandPlace>& places) {
    constexpr double reach_s = 0.5;
    double squares = 0;
    std::size_t first = 0;
    for (const HandPlace& at : places) {
        while (places[first].t_s < at.t_s - reach_s) ++first;
        double x = 0, y = 0;
        int count = 0;
        for (std::size_t k = first; k < places.size() && places[k].t_s <= at.t_s + reach_s; ++k, ++count) {
            x += places[k].x;
            y += places[k].y;
        }
        squares += std::pow(at.x - x / count, 2) + std::pow(at.y - y / count, 2);
    }
    return std::sqrt(squares / static_cast<double>(places.size()));
}

/// Seconds from the last landing before the hold's first second is over until the hands rest.
Measured settling(const body::BodyCourse& course, std::span<const FootSwing> swings, const Stretch& hold) {
    constexpr double look_back_s = 3;
    constexpr double rests_below = 0.08;
    std::optional<double> landed;
    for (const FootSwing& swing : swings)
        if (swing.land_s > hold.start_s - look_back_s && swing.land_s < hold.start_s + 1) landed = swing.land_s;
    if (!landed) return {std::nullopt, "no foot landed before it"};
    double last_moving = *landed;
    bool seen = false;
    for (std::size_t side = 0; side < 2; ++side) {
        const auto places = places_of(course, side, {*landed, std::min(hold.end_s, hold.start_s + 3)});
        for (std::size_t i = 2; i < places.size(); ++i) {
            seen = true;
            const double lasted = places[i].t_s - places[i - 2].t_s;
            const double moved = std::hypot(places[i].x - places[i - 2].x, places[i].y - places[i - 2].y);
            if (moved / lasted > rests_below) last_moving = std::max(last_moving, places[i - 1].t_s);
        }
    }
    if (!seen) return {std::nullopt, "the hands are hidden"};
    return {last_moving - *landed, ""};
}

}  // namespace

Hands hands_in(const body::BodyCourse& course, std::span<const FootSwing> swings, const Stretch& hold,
               std::optional<double> height_cm) {
    const double scale = height_cm.value_or(100);
    const double margin = std::min(0.5, hold.duration_s() / 5);
    const Stretch settled{hold.start_s + margin, hold.end_s - margin};
    const std::size_t enough = std::max<std::size_t>(5, pictures_in(course, settled) / 2);
    std::vector<double> hips;
    for (const CourseFrame& frame : course.frames)
        if (frame.present && frame.t_s >= settled.start_s && frame.t_s <= settled.end_s)
            hips.push_back(body::middle(frame[left_hip], frame[right_hip]).y / frame.height_px);
    Hands out;
    std::array<std::optional<double>, 2> level;
    double restless = -1;
    for (std::size_t side = 0; side < 2; ++side) {
        const auto places = places_of(course, side, settled);
        Measured& from_hip = side == 0 ? out.left_from_hip : out.right_from_hip;
        from_hip = {std::nullopt, hidden};
        if (places.size() < enough) continue;
        std::vector<double> y;
        for (const HandPlace& place : places) y.push_back(place.y);
        level[side] = median(y);
        from_hip = {scale * (median(hips) - *level[side]), ""};
        restless = std::max(restless, wandering(places));
    }
    out.height_difference = level[0] && level[1] ? Measured{scale * (*level[1] - *level[0]), ""}
                                                 : Measured{std::nullopt, "a hand is hidden"};
    out.fidget_rms = restless >= 0 ? Measured{scale * restless, ""} : Measured{std::nullopt, "the hands are hidden"};
    out.settling_s = settling(course, swings, hold);
    return out;
}

}  // namespace quarterturn::posing
