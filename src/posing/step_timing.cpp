#include "posing/step_timing.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace quarterturn::posing {
namespace {
constexpr std::array lengths_s{0.32, 0.36, 0.40, 0.44, 0.48, 0.52, 0.56, 0.60};
constexpr double averaged_s = 0.04;  // about the best guess: further off the search's ends would pull
constexpr double search_s = 0.12;
constexpr double search_step_s = 0.005;
constexpr double rest_s = 0.1;          // looked at before and after the step
constexpr double half_stride_s = 0.55;  // before and after its middle the body is over where the foot stood and stands

/// A picture as one hypothesis has it; lengths in body heights.
struct Row {
    double x, y;
    double s, b;  ///< done of the way, and of the lift
    double weight = 1;
};

/// Weighted means and the least-squares way and lift about them.
class Fit {
  public:
    explicit Fit(const std::vector<Row>& rows) {
        double sum = 0;
        for (const Row& r : rows) {
            sum += r.weight;
            s_ += r.weight * r.s;
            b_ += r.weight * r.b;
            x_ += r.weight * r.x;
            y_ += r.weight * r.y;
        }
        for (double* mean : {&s_, &b_, &x_, &y_}) *mean /= sum;
        double ss = 0, sb = 0, bb = 0, xs = 0, ys = 0, yb = 0;
        for (const Row& r : rows) {
            const double s = r.s - s_, b = r.b - b_;
            ss += r.weight * s * s;
            sb += r.weight * s * b;
            bb += r.weight * b * b;
            xs += r.weight * s * (r.x - x_);
            ys += r.weight * s * (r.y - y_);
            yb += r.weight * b * (r.y - y_);
        }
        const double determinant = ss * bb - sb * sb;
        possible_ = determinant > 1e-9;
        if (!possible_) return;
        across_ = xs / ss;
        down_ = (ys * bb - yb * sb) / determinant;
        lift_ = (yb * ss - ys * sb) / determinant;
    }
    [[nodiscard]] bool possible() const { return possible_; }
    [[nodiscard]] double off(const Row& r) const {
        const double s = r.s - s_;
        return std::hypot(r.x - x_ - across_ * s, r.y - y_ - down_ * s - lift_ * (r.b - b_));
    }

  private:
    double s_ = 0, b_ = 0, x_ = 0, y_ = 0, across_ = 0, down_ = 0, lift_ = 0;
    bool possible_ = false;
};

/// How badly the step with the least cost fits, by Student's law with one degree of freedom (Cauchy's): two pictures in
/// which the foot is taken for the other cost hardly more than one. Mean over the rows, as some guesses span more.
double cost_of(std::vector<Row>& rows, double usual_off) {
    constexpr int rounds = 4;
    double cost = HUGE_VAL;
    for (int round = 0; round < rounds; ++round) {
        const Fit fit(rows);
        if (!fit.possible()) return HUGE_VAL;
        cost = 0;
        for (Row& row : rows) {
            const double share = fit.off(row) / usual_off;
            row.weight = 1 / (1 + share * share);
            cost += std::log1p(share * share) / static_cast<double>(rows.size());
        }
    }
    return cost;
}

struct Around {
    std::vector<double> t_s;
    std::vector<body::Point> at;  ///< body heights
    double nearer = 1;            ///< how much nearer to the phone the step ends than it begins
    double way = 0;               ///< largest distance between two of them
};

double height_at(const std::vector<FootPlace>& places, double t_s) {
    const auto later = std::lower_bound(places.begin(), places.end(), t_s,
                                        [](const FootPlace& place, double t) { return place.t_s < t; });
    return later == places.end() ? places.back().height_px : later->height_px;
}

Around around(const std::vector<FootPlace>& places, double about_s) {
    Around out;
    if (places.empty()) return out;
    // over one height for all of them: one that grows on the way would add a movement of its own
    const double height = height_at(places, about_s);
    for (const FootPlace& place : places) {
        if (std::abs(place.t_s - about_s) > search_s + lengths_s.back() / 2 + rest_s) continue;
        out.t_s.push_back(place.t_s);
        out.at.push_back({place.middle().x / height, place.middle().y / height});
    }
    for (const body::Point& a : out.at)
        for (const body::Point& b : out.at) out.way = std::max(out.way, std::hypot(a.x - b.x, a.y - b.y));
    constexpr double most = 1.6;
    out.nearer = std::clamp(height_at(places, about_s + half_stride_s) / height_at(places, about_s - half_stride_s),
                            1 / most, most);
    return out;
}

void set_rows(std::vector<Row>& rows, const Around& seen, double middle_s, double length_s) {
    rows.clear();
    for (std::size_t i = 0; i < seen.t_s.size(); ++i) {
        const double off_s = seen.t_s[i] - middle_s;
        if (std::abs(off_s) > length_s / 2 + rest_s) continue;
        const double u = std::clamp(off_s / length_s + 0.5, 0.0, 1.0);
        const double done = u * u * u * (10 - 15 * u + 6 * u * u);
        rows.push_back({seen.at[i].x, seen.at[i].y, done / (seen.nearer + (1 - seen.nearer) * done),
                        16 * u * u * (1 - u) * (1 - u)});
    }
}

struct Guess {
    double middle_s, length_s;
    double cost;
};

std::vector<Guess> guesses_about(const Around& seen, double about_s, const UsualLength& usual) {
    constexpr std::size_t fewest = 5;
    // pictures of a step: the shorter guesses, which span fewer, shall not cost less
    constexpr double pictures = 9;
    // body heights: found of feet at rest, and of the way of feet that move, on drawn films at 432 x 768
    const double usual_off = std::hypot(0.005, 0.03 * seen.way);
    std::vector<Guess> guesses;
    std::vector<Row> rows;
    for (double middle = about_s - search_s; middle <= about_s + search_s; middle += search_step_s)
        for (const double length : lengths_s) {
            set_rows(rows, seen, middle, length);
            if (rows.size() < fewest) continue;
            const double unusual = (length - usual.length_s) / usual.spread_s;
            const double cost = pictures * cost_of(rows, usual_off) + unusual * unusual / 2;
            if (cost < HUGE_VAL) guesses.push_back({middle, length, cost});
        }
    return guesses;
}

}  // namespace

std::optional<StepTime> step_time(const std::vector<FootPlace>& places, double about_s, const UsualLength& usual) {
    const std::vector<Guess> guesses = guesses_about(around(places, about_s), about_s, usual);
    if (guesses.empty()) return std::nullopt;
    const auto best = std::min_element(guesses.begin(), guesses.end(),
                                       [](const Guess& a, const Guess& b) { return a.cost < b.cost; });
    double near_sum = 0, middle = 0, length = 0, sum = 0, square = 0;
    for (const Guess& guess : guesses) {
        const double weight = std::exp(best->cost - guess.cost), off = guess.middle_s - best->middle_s;
        sum += weight;
        square += weight * off * off;
        if (std::abs(off) > averaged_s) continue;
        near_sum += weight;
        middle += weight * off;
        length += weight * guess.length_s;
    }
    return StepTime{best->middle_s + middle / near_sum, length / near_sum, std::sqrt(square / sum)};
}

}  // namespace quarterturn::posing
