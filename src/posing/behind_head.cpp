#include "posing/behind_head.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "posing/hands_speed.hpp"
#include "posing/landmark_joints.hpp"

namespace quarterturn::posing {
namespace {

using enum body::Joint;

class Splitter {
  public:
    explicit Splitter(const body::BodyCourse& course, const HoldSettings& holds)
        : course_(course), shortest_s_(holds.min_hold_s), stance_change_(0.8 * in_the_picture(holds).posture_change) {}

    [[nodiscard]] std::vector<StillStretch> split(const std::vector<StillStretch>& stills) const {
        std::vector<StillStretch> out;
        for (const StillStretch& still : stills) split(still, out);
        return out;
    }

  private:
    /// More than once where one pose after the other is held so.
    void split(const StillStretch& still, std::vector<StillStretch>& out) const {
        const std::optional<Stretch> by_hands = rested(still), at = by_hands ? by_hands : stepped(still);
        if (!at) {
            out.push_back(still);
            return;
        }
        split(part_of(still, {still.bounds.start_s, at->start_s}), out);
        split(part_of(still, {at->end_s, still.bounds.end_s}), out);
    }

    [[nodiscard]] static StillStretch part_of(const StillStretch& still, const Stretch& bounds) {
        StillStretch part{bounds, {}};
        for (const Stretch& movement : still.returned)
            if (movement.start_s > bounds.start_s && movement.end_s < bounds.end_s) part.returned.push_back(movement);
        return part;
    }

    /// Body heights per second.
    [[nodiscard]] static bool tells_rest_from_unrest(double a, double b) {
        constexpr double quiet = 0.016, busy = 0.012, busier = 1.5, clearly = 0.024, hardly = 2.5;
        const double less = std::min(a, b), more = std::max(a, b);
        return less <= quiet && more >= busy && more >= (more >= clearly ? busier : hardly) * less;
    }

    /// The movement before or after which the hands rest, as they do not on its other side.
    [[nodiscard]] std::optional<Stretch> rested(const StillStretch& still) const {
        std::optional<Stretch> best;
        double most = 0;
        for (const Stretch& movement : still.returned) {
            if (too_short_beside(still, movement)) continue;
            const Stretch before = before_of(still, movement), after = after_of(still, movement);
            const auto a = hands_speed(course_, before), b = hands_speed(course_, after);
            if (!a || !b || !tells_rest_from_unrest(*a, *b)) continue;
            if (std::abs(*a - *b) <= most || !at_the_head(before) || !at_the_head(after)) continue;
            most = std::abs(*a - *b);
            best = movement;
        }
        return best;
    }

    [[nodiscard]] bool too_short_beside(const StillStretch& still, const Stretch& movement) const {
        return movement.start_s - still.bounds.start_s < shortest_s_ ||
               still.bounds.end_s - movement.end_s < shortest_s_;
    }
    /// What is beside a movement: not so long that the next posture comes in, and a sway or two, which cancels.
    static constexpr double look_s = 2.5;
    [[nodiscard]] static Stretch before_of(const StillStretch& still, const Stretch& movement) {
        return {std::max(still.bounds.start_s, movement.start_s - look_s), movement.start_s};
    }
    [[nodiscard]] static Stretch after_of(const StillStretch& still, const Stretch& movement) {
        return {movement.end_s, std::min(still.bounds.end_s, movement.end_s + look_s)};
    }

    /// The movements, close together, across which she came to stand otherwise.
    [[nodiscard]] std::optional<Stretch> stepped(const StillStretch& still) const {
        constexpr double longest_s = 1.2;
        std::optional<Stretch> best;
        double most = stance_change_;
        for (std::size_t first = 0; first < still.returned.size(); ++first)
            for (std::size_t last = first; last < still.returned.size(); ++last) {
                const Stretch steps{still.returned[first].start_s, still.returned[last].end_s};
                if (steps.duration_s() > longest_s || too_short_beside(still, steps)) continue;
                const Stretch before = before_of(still, steps), after = after_of(still, steps);
                const double moved = stance_changed(before, after);
                if (moved <= most || !at_the_head(before) || !at_the_head(after)) continue;
                most = moved;
                best = steps;
            }
        return best;
    }

    /// How differently she stands: one ankle from the other, and the hips over the feet; body heights.
    [[nodiscard]] double stance_changed(const Stretch& before, const Stretch& after) const {
        const auto a = stance_in(before), b = stance_in(after);
        return a && b ? std::hypot((*b)[0] - (*a)[0], (*b)[1] - (*a)[1], (*b)[2] - (*a)[2]) : 0;
    }

    [[nodiscard]] std::optional<std::array<double, 3>> stance_in(const Stretch& stretch) const {
        constexpr double seen_well = 0.5;
        std::array<std::vector<double>, 3> values;
        for (const body::CourseFrame& frame : course_.frames) {
            if (!frame.present || frame.t_s < stretch.start_s || frame.t_s > stretch.end_s) continue;
            const body::CoursePoint &left = frame[left_ankle], &right = frame[right_ankle];
            if (std::min(left.seen, right.seen) < seen_well) continue;
            const double hips = body::middle(frame[left_hip], frame[right_hip]).x;
            values[0].push_back((left.x - right.x) / course_.height_px);
            values[1].push_back((left.y - right.y) / course_.height_px);
            values[2].push_back((hips - (left.x + right.x) / 2) / course_.height_px);
        }
        if (values[0].size() < 3) return std::nullopt;
        std::array<double, 3> stance{};
        for (std::size_t k = 0; k < 3; ++k) {
            const auto half = values[k].begin() + static_cast<std::ptrdiff_t>(values[k].size() / 2);
            std::nth_element(values[k].begin(), half, values[k].end());
            stance[k] = *half;
        }
        return stance;
    }

    [[nodiscard]] bool at_the_head(const Stretch& stretch) const { return hand_at_head(course_, stretch); }

    const body::BodyCourse& course_;
    double shortest_s_;
    double stance_change_;
};

}  // namespace

bool hand_at_head(const body::CourseFrame& frame) {
    constexpr double near = 0.16;
    const auto head = body::middle(frame[left_ear], frame[right_ear]);
    const double nearest = std::min(body::distance(frame[left_wrist], head), body::distance(frame[right_wrist], head));
    return frame.present && nearest < near * frame.height_px;
}

bool hand_at_head(const body::BodyCourse& course, const Stretch& stretch) {
    int all = 0, there = 0;
    for (const body::CourseFrame& frame : course.frames) {
        if (!frame.present || frame.t_s < stretch.start_s || frame.t_s > stretch.end_s) continue;
        ++all;
        there += hand_at_head(frame) ? 1 : 0;
    }
    return 2 * there > all;
}

std::vector<StillStretch> parted_behind_head(const std::vector<StillStretch>& stills, const body::BodyCourse& course,
                                             const HoldSettings& holds) {
    return Splitter(course, holds).split(stills);
}

}  // namespace quarterturn::posing
