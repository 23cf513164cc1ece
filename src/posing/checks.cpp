#include "posing/checks.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "rules/measured_mark.hpp"

namespace quarterturn::posing {
namespace {

using body::CourseFrame;
using body::CoursePoint;
using enum body::Joint;

constexpr double degree = std::numbers::pi / 180;
constexpr double seen_enough = 0.5;
constexpr double heel_width = 0.036;  // body heights

/// A value and how well it was seen.
struct Answer {
    Measured value;
    double confidence = 0;
};

Answer no(const char* reason) {
    return {{std::nullopt, reason}, 0};
}

double percentile(std::vector<double> values, double share) {
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

class Checker {
  public:
    explicit Checker(const CheckedHold& hold) : hold_(hold) {
        const Stretch bounds{hold.segment.start_s, hold.segment.end_s};
        const double margin = std::min(0.5, bounds.duration_s() / 5);
        for (const CourseFrame& frame : hold.seen.course.frames)
            if (frame.present && frame.t_s >= bounds.start_s + margin && frame.t_s <= bounds.end_s - margin)
                frames_.push_back(&frame);
    }

    [[nodiscard]] Answer answer(const std::string& item) const {
        if (item == "hold_length") return {{hold_.segment.duration_s(), ""}, 1};
        if (item == "stillness") return {hold_.segment.stillness, hold_.segment.stillness.value ? 0.9 : 0};
        if (item == "transition_steps") return steps();
        if (item == "torso_twist_side") return {hold_.segment.twist.absolute, 0.5};
        if (item == "hands_matched") return hands();
        if (item == "head_direction") return head();
        if (item == "feet_placed") return in_cm(feet());
        if (item == "heel_distance") return in_cm(heels());
        if (item == "shoulders_level") return shoulders();
        if (item == "elbows_matched") return elbows();
        if (item == "upper_arms_level") return upper_arms();
        return no("this version does not measure it");
    }

  private:
    using Get = std::function<double(const CourseFrame&)>;

    /// Median over the pictures in which all the points are seen; at least half of the pictures must show them.
    [[nodiscard]] Answer median_of(std::initializer_list<body::Joint> needed, const Get& get,
                                   const char* hidden) const {
        std::vector<double> values;
        double seen = 0;
        for (const CourseFrame* frame : frames_) {
            double worst = 1;
            for (const body::Joint joint : needed) {
                worst = std::min(worst, (*frame)[joint].seen);
                if (joint == left_shoulder && !shoulders_apart(*frame)) worst = 0;
            }
            if (worst < seen_enough) continue;
            values.push_back(get(*frame));
            seen += worst;
        }
        if (values.size() < 3 || 2 * values.size() < frames_.size()) return no(hidden);
        const auto count = static_cast<double>(values.size());
        return {{percentile(values, 0.5), ""}, seen / count * (count / static_cast<double>(frames_.size()))};
    }
    [[nodiscard]] double across() const { return std::cos(hold_.segment.facing_deg.value.value_or(90) * degree); }
    [[nodiscard]] bool broad_to_the_phone() const { return std::abs(across()) > 0.7; }

    /// Broad to the phone they are a fifth of the height apart; with hands behind the head the network now and then
    /// puts both on the same side, and then nothing about them is true.
    [[nodiscard]] bool shoulders_apart(const CourseFrame& frame) const {
        constexpr double least = 0.1;
        const double apart = std::abs(frame[left_shoulder].x - frame[right_shoulder].x);
        return !broad_to_the_phone() || apart >= least * frame.height_px;
    }

    [[nodiscard]] Answer in_cm(Answer answer) const {
        if (!answer.value.value) return answer;
        if (!hold_.height_cm) return no("the athlete's height is not known");
        answer.value.value = *answer.value.value * *hold_.height_cm;
        return answer;
    }

    [[nodiscard]] Answer steps() const {
        if (!hold_.steps_into_it) return {{std::nullopt, hold_.steps_reason}, 0};
        return {{static_cast<double>(*hold_.steps_into_it), ""}, 0.7};
    }
    [[nodiscard]] Answer hands() const {
        if (!hold_.height_cm) return no("the athlete's height is not known");
        if (!hold_.segment.hands) return no("the hands were not looked for");
        Measured value = hold_.segment.hands->height_difference;
        if (value.value) value.value = std::abs(*value.value);
        return {value, value.value ? 0.85 : 0};
    }
    [[nodiscard]] Answer head() const {
        if (!hold_.segment.facing_deg.value) return no("the facing is not known");
        if (across() < -0.5) return no("the face does not show from behind");
        Answer out = median_of(
            {nose, left_ear, right_ear},
            [&](const CourseFrame& frame) {
                const auto& left = frame.in_room(left_ear);
                const auto& right = frame.in_room(right_ear);
                const double yaw =
                    std::atan2(static_cast<double>(right.z - left.z), static_cast<double>(left.x - right.x)) / degree;
                return std::remainder(yaw - *hold_.segment.facing_deg.value, 360.0);
            },
            "the head is hidden");
        if (out.value.value) out.value.value = std::abs(*out.value.value);
        out.confidence *= 0.6;  // the network's depth is a guess
        return out;
    }
    [[nodiscard]] Answer shoulders() const {
        if (!broad_to_the_phone()) return no("the shoulders do not show in a side view");
        return median_of(
            {left_shoulder, right_shoulder},
            [](const CourseFrame& frame) {
                const CoursePoint& l = frame[left_shoulder];
                const CoursePoint& r = frame[right_shoulder];
                return std::atan2(std::abs(l.y - r.y), std::abs(l.x - r.x)) / degree;
            },
            "a shoulder is hidden");
    }
    [[nodiscard]] Answer elbows() const {
        if (!broad_to_the_phone()) return no("the far arm does not show in a side view");
        return median_of(
            {left_shoulder, right_shoulder, left_elbow, right_elbow, left_wrist, right_wrist},
            [](const CourseFrame& f) {
                return std::abs(angle_at(f[left_elbow], f[left_shoulder], f[left_wrist]) -
                                angle_at(f[right_elbow], f[right_shoulder], f[right_wrist]));
            },
            "an arm is hidden");
    }
    [[nodiscard]] Answer upper_arms() const {
        if (!broad_to_the_phone()) return no("the far arm does not show in a side view");
        const auto slope = [](const CoursePoint& shoulder, const CoursePoint& elbow) {
            return std::atan2(std::abs(shoulder.y - elbow.y), std::abs(shoulder.x - elbow.x)) / degree;
        };
        return median_of(
            {left_shoulder, right_shoulder, left_elbow, right_elbow},
            [&](const CourseFrame& f) {
                return std::max(slope(f[left_shoulder], f[left_elbow]), slope(f[right_shoulder], f[right_elbow]));
            },
            "an upper arm is hidden");
    }
    [[nodiscard]] Answer heels() const {
        if (!broad_to_the_phone()) return no("the gap between the heels does not show in a side view");
        return median_of(
            {left_heel, right_heel},
            [](const CourseFrame& f) {
                const double apart = std::abs(f[left_heel].x - f[right_heel].x) / f.height_px;
                return std::max(0.0, apart - heel_width);
            },
            "the heels are hidden or out of the picture");
    }
    /// The foot that strays further, body heights.
    [[nodiscard]] Answer feet() const {
        Answer out = no("the feet are hidden or out of the picture");
        for (const auto& foot : {std::pair{left_ankle, left_heel}, std::pair{right_ankle, right_heel}}) {
            const auto ankle = foot.first, heel = foot.second;  // clang 14 captures no structured binding
            const auto place = [&](const CourseFrame& f) { return body::middle(f[ankle], f[heel]); };
            const Answer x = median_of(
                {ankle}, [&](const CourseFrame& f) { return place(f).x; }, "");
            const Answer y = median_of(
                {ankle}, [&](const CourseFrame& f) { return place(f).y; }, "");
            if (!x.value.value || !y.value.value) continue;
            std::vector<double> strayed;
            for (const CourseFrame* f : frames_)
                if ((*f)[ankle].seen >= seen_enough)
                    strayed.push_back(std::hypot(place(*f).x - *x.value.value, place(*f).y - *y.value.value) /
                                      f->height_px);
            const double most = percentile(strayed, 0.95);
            if (!out.value.value || most > *out.value.value) out = {{most, ""}, x.confidence};
        }
        return out;
    }

    const CheckedHold& hold_;
    std::vector<const CourseFrame*> frames_;
};

}  // namespace

std::vector<Check> checks_of(const CheckedHold& hold, const rules::PoseExpectation& pose) {
    const Checker checker(hold);
    std::vector<Check> out;
    for (const rules::ChecklistItem& item : pose.items) {
        if (!item.measured) continue;
        Answer answer = checker.answer(item.id);
        if (!answer.value.value && answer.value.reason.empty()) answer.value.reason = "not measured";
        Check check{item.id, answer.value, "", {}, {}, item.published, 0};
        if (check.value.value)
            check.confidence = std::clamp(answer.confidence, 0.0, 1.0) * hold.segment.pose_confidence;
        if (const std::optional<rules::Limit> limit = rules::limit_of(pose, item)) {
            check.limit = limit->value;
            check.unit = limit->unit;
            if (check.value.value) check.met = rules::is_met(*check.value.value, *limit);
        }
        out.push_back(std::move(check));
    }
    return out;
}

}  // namespace quarterturn::posing
