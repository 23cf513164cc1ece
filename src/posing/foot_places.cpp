#include "posing/foot_places.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::posing {
namespace {

constexpr double lost_below = 0.25;    // seen
constexpr double longest_gap_s = 0.3;  // between the pictures on either side of what is mended
/// Body heights off the middle between both neighbours. A step of two thirds of the height in 0.45 s bends its way by
/// 0.045 from one fifteenth of a second to the next at most.
constexpr double jump = 0.06;

std::vector<FootPlace> seen_places(const body::BodyCourse& course, Foot foot) {
    using enum body::Joint;
    const std::array marks = foot == Foot::left ? std::array{left_ankle, left_heel, left_foot_tip}
                                                : std::array{right_ankle, right_heel, right_foot_tip};
    std::vector<FootPlace> places;
    for (const body::CourseFrame& frame : course.frames) {
        if (!frame.present) continue;
        FootPlace& place = places.emplace_back();
        place.t_s = frame.t_s;
        place.height_px = std::max(1.0, frame.height_px);
        place.seen = (frame[marks[0]].seen + frame[marks[1]].seen) / 2;
        for (std::size_t i = 0; i < marks.size(); ++i) place.marks[i] = {frame[marks[i]].x, frame[marks[i]].y};
    }
    return places;
}

/// Puts the place on the straight way from `before` to `after`.
void put_between(FootPlace& place, const FootPlace& before, const FootPlace& after) {
    const double share = (place.t_s - before.t_s) / (after.t_s - before.t_s);
    for (std::size_t i = 0; i < place.marks.size(); ++i) {
        place.marks[i].x = before.marks[i].x + share * (after.marks[i].x - before.marks[i].x);
        place.marks[i].y = before.marks[i].y + share * (after.marks[i].y - before.marks[i].y);
    }
    place.seen = std::min(before.seen, after.seen);
}

bool near_in_time(const FootPlace& before, const FootPlace& after) {
    return after.t_s - before.t_s <= longest_gap_s;
}

void mend_lost(std::vector<FootPlace>& places) {
    std::size_t last_seen = places.size();
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (places[i].seen < lost_below) continue;
        if (last_seen < i && near_in_time(places[last_seen], places[i]))
            for (std::size_t k = last_seen + 1; k < i; ++k) put_between(places[k], places[last_seen], places[i]);
        last_seen = i;
    }
}

double off(const FootPlace& place, const FootPlace& before, const FootPlace& after) {
    FootPlace between = place;
    put_between(between, before, after);
    return std::hypot(place.middle().x - between.middle().x, place.middle().y - between.middle().y) / place.height_px;
}

void mend_jumps(std::vector<FootPlace>& places) {
    std::vector<double> off_by(places.size(), 0);
    for (std::size_t i = 1; i + 1 < places.size(); ++i)
        if (near_in_time(places[i - 1], places[i + 1])) off_by[i] = off(places[i], places[i - 1], places[i + 1]);
    for (std::size_t i = 1; i + 1 < places.size(); ++i)
        if (off_by[i] > jump && off_by[i] > off_by[i - 1] && off_by[i] >= off_by[i + 1])
            put_between(places[i], places[i - 1], places[i + 1]);
}

}  // namespace

body::Point FootPlace::middle() const {
    return {(marks[0].x + marks[1].x + marks[2].x) / 3, (marks[0].y + marks[1].y + marks[2].y) / 3};
}

std::vector<FootPlace> foot_places(const body::BodyCourse& course, Foot foot) {
    std::vector<FootPlace> places = seen_places(course, foot);
    mend_lost(places);
    mend_jumps(places);
    return places;
}

}  // namespace quarterturn::posing
