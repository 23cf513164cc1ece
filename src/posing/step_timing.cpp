#include "posing/step_timing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace quarterturn::posing {
namespace {

constexpr std::array lengths_s{0.34, 0.38, 0.42, 0.46, 0.50, 0.54, 0.60};
constexpr double search_s = 0.12;
constexpr double search_step_s = 0.005;
constexpr double rest_s = 0.1;          // looked at before and after the step
constexpr double always_left = 0.0005;  // body heights: what no fit explains, so that no tiny movement is preferred

struct FootPlace {
    double t_s, x, y;  ///< body heights
};

std::vector<FootPlace> places_around(const body::BodyCourse& course, Foot foot, double about_s) {
    using enum body::Joint;
    const std::array marks = foot == Foot::left ? std::array{left_ankle, left_heel, left_foot_tip}
                                                : std::array{right_ankle, right_heel, right_foot_tip};
    const double reach = search_s + lengths_s.back() / 2 + rest_s;
    std::vector<FootPlace> places;
    for (const body::CourseFrame& frame : course.frames) {
        if (!frame.present || std::abs(frame.t_s - about_s) > reach) continue;
        // over one height for all of them: one that grows on the way would add a movement of its own
        FootPlace place{frame.t_s, 0, 0};
        for (const body::Joint mark : marks) {
            place.x += frame[mark].x / (3 * course.height_px);
            place.y += frame[mark].y / (3 * course.height_px);
        }
        places.push_back(place);
    }
    return places;
}

/// Least squares of one coordinate on a constant and s, with b or without.
class Fit {
  public:
    void add(double value, double s, double b) {
        rows_.push_back({value, s, b});
        for (std::size_t k = 0; k < 3; ++k) mean_[k] += rows_.back()[k];
    }
    struct Result {
        double unexplained = 0, explained = 0;  ///< sums of squares
    };
    [[nodiscard]] Result solve(bool lifts) const {
        const auto count = static_cast<double>(rows_.size());
        double ss = 0, sb = 0, bb = 0, vs = 0, vb = 0, vv = 0;
        for (const auto& row : rows_) {
            const double v = row[0] - mean_[0] / count, s = row[1] - mean_[1] / count, b = row[2] - mean_[2] / count;
            ss += s * s;
            sb += s * b;
            bb += b * b;
            vs += v * s;
            vb += v * b;
            vv += v * v;
        }
        const double determinant = ss * bb - sb * sb;
        if (ss < 1e-9 || determinant < 1e-9) return {vv, 0};
        const double way = lifts ? (vs * bb - vb * sb) / determinant : vs / ss;
        const double lift = lifts ? (vb * ss - vs * sb) / determinant : 0;
        const double explained = std::clamp(way * vs + lift * vb, 0.0, vv);
        return {vv - explained, explained};
    }

  private:
    std::vector<std::array<double, 3>> rows_;
    std::array<double, 3> mean_{};
};

/// What a step of this length about this middle leaves unexplained, over what it explains.
double unexplained(const std::vector<FootPlace>& places, double middle_s, double length_s) {
    Fit x, y;
    std::size_t count = 0;
    for (const FootPlace& place : places) {
        if (std::abs(place.t_s - middle_s) > length_s / 2 + rest_s) continue;
        const double u = std::clamp((place.t_s - middle_s) / length_s + 0.5, 0.0, 1.0);
        const double s = u * u * u * (10 - 15 * u + 6 * u * u), b = 16 * u * u * (1 - u) * (1 - u);
        x.add(place.x, s, b);
        y.add(place.y, s, b);
        ++count;
    }
    constexpr std::size_t unknowns = 3;
    if (count < unknowns + 2) return HUGE_VAL;
    const auto over_x = x.solve(false), over_y = y.solve(true);
    const double left = (over_x.unexplained + over_y.unexplained) / static_cast<double>(2 * count - 2 * unknowns + 1);
    const double moved = (over_x.explained + over_y.explained) / static_cast<double>(count);
    return (left + always_left * always_left) / (moved + 1e-12);
}

}  // namespace

std::optional<double> step_middle(const body::BodyCourse& course, Foot foot, double about_s) {
    const std::vector<FootPlace> places = places_around(course, foot, about_s);
    std::optional<double> best;
    double least = HUGE_VAL;
    for (double middle = about_s - search_s; middle <= about_s + search_s; middle += search_step_s)
        for (const double length : lengths_s) {
            const double left = unexplained(places, middle, length);
            if (left >= least) continue;
            least = left;
            best = middle;
        }
    return best;
}

}  // namespace quarterturn::posing
