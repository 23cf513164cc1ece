#include "body/camera_shake.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <span>

#include "body/small_pictures.hpp"

namespace quarterturn::body {
namespace {

using Spot = ShakeMeter::Spot;

constexpr int levels = 3;
constexpr int cell = 12;
constexpr int spots_per_cell = 10;
constexpr float least_slope = 1.5F;  // weaker structure is noise of the camera
constexpr int least_spots = 60;
constexpr int most_rounds = 12;
constexpr double converged_px = 0.004;
/// A worse guess than this is no measurement; in pixels of the reduced picture.
constexpr double largest_error_px = 0.2;
/// Pictures in which the reference is not found again before another is taken: a second, as somebody may pass by.
constexpr int patience = 15;
constexpr double largest_misfit = 0.22;
/// What fits nearly as well as the last found by the whole search, this close to the picture before, needs no search.
constexpr double near_misfit = 1.1, near_px = 0.5;
/// Grey levels by which the same spot may differ in two pictures.
constexpr double believed_noise = 2.5;
/// Neighbouring spots lie on the same edges, so they tell less than as many independent ones would.
constexpr double spots_of_one_edge = 20;
/// With less of the reference's spots in sight the rest is too easily misled.
constexpr double least_in_view = 0.25;
/// Of the picture's width, from one looked-at picture to the next: a hand does not jerk further.
constexpr double largest_jump = 0.04;

/// Each level half as large as the one before.
std::vector<cv::Mat> pyramid_of(const cv::Mat& grey) {
    std::vector<cv::Mat> out{smoothed(grey)};
    while (out.size() < levels) out.push_back(halved(out.back()));
    return out;
}

/// The box in pixels of a level, wider by as much as blurring and slopes reach.
cv::Rect at_level(const cv::Rect& box, std::size_t level) {
    if (box.empty()) return box;
    const int size = 1 << level;
    constexpr int reach = 3;
    return {cv::Point(box.x / size - reach, box.y / size - reach),
            cv::Point((box.x + box.width) / size + reach + 1, (box.y + box.height) / size + reach + 1)};
}

float sampled(const cv::Mat& grey, float x, float y) {
    const auto x0 = static_cast<int>(x), y0 = static_cast<int>(y);
    const float fx = x - static_cast<float>(x0), fy = y - static_cast<float>(y0);
    const std::uint8_t* upper = grey.ptr<std::uint8_t>(y0) + x0;
    const std::uint8_t* lower = grey.ptr<std::uint8_t>(y0 + 1) + x0;
    const float top = static_cast<float>(upper[0]) + fx * static_cast<float>(upper[1] - upper[0]);
    const float bottom = static_cast<float>(lower[0]) + fx * static_cast<float>(lower[1] - lower[0]);
    return top + fy * (bottom - top);
}

/// Tukey's weight for a residual of `scaled` robust standard deviations.
double weight_of(double scaled) {
    constexpr double limit = 4.685;
    const double u = scaled / limit;
    return std::abs(u) >= 1 ? 0 : (1 - u * u) * (1 - u * u);
}

double middle_of(std::vector<float>& values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return static_cast<double>(*half);
}

/// Steep spots count no more than this: a person in dark clothes must not outvote the room.
float share_of(float dx, float dy) {
    constexpr double steep = 8;
    const double slope = static_cast<double>(std::hypot(dx, dy));
    return slope > steep ? static_cast<float>(steep / slope) : 1;
}

/// The steepest spots of each cell, so that they lie all over the room.
std::vector<Spot> spots_in(const cv::Mat& grey, const cv::Rect& athlete, int margin) {
    cv::Mat dx, dy;
    cv::Sobel(grey, dx, CV_32F, 1, 0, 3, 1.0 / 8);
    cv::Sobel(grey, dy, CV_32F, 0, 1, 3, 1.0 / 8);
    const cv::Rect inside(margin, margin, grey.cols - 2 * margin, grey.rows - 2 * margin);
    const float cx = static_cast<float>(grey.cols) / 2, cy = static_cast<float>(grey.rows) / 2;
    std::vector<Spot> all, here;
    for (int top = 0; top < grey.rows; top += cell) {
        for (int left = 0; left < grey.cols; left += cell) {
            here.clear();
            const cv::Rect part = cv::Rect(left, top, cell, cell) & inside;
            for (int y = part.y; y < part.y + part.height; ++y) {
                for (int x = part.x; x < part.x + part.width; ++x) {
                    const float gx = dx.at<float>(y, x), gy = dy.at<float>(y, x);
                    if (std::hypot(gx, gy) < least_slope || athlete.contains({x, y})) continue;
                    here.push_back({static_cast<float>(x) - cx, static_cast<float>(y) - cy,
                                    static_cast<float>(grey.at<std::uint8_t>(y, x)), gx, gy, share_of(gx, gy)});
                }
            }
            const auto steeper = [](const Spot& a, const Spot& b) {
                return a.dx * a.dx + a.dy * a.dy > b.dx * b.dx + b.dy * b.dy;
            };
            const auto kept = static_cast<std::ptrdiff_t>(std::min<std::size_t>(spots_per_cell, here.size()));
            std::partial_sort(here.begin(), here.begin() + kept, here.end(), steeper);
            all.insert(all.end(), here.begin(), here.begin() + kept);
        }
    }
    return all;
}

constexpr int unknowns = 5;  // x, y, turn, gain, offset
using Vector = cv::Matx<double, unknowns, 1>;

/// Weighted least squares.
class Equations {
  public:
    void add(const Vector& row, double value, double weight) {
        for (int i = 0; i < unknowns; ++i) {
            for (int j = 0; j <= i; ++j) square_(i, j) += weight * row(i, 0) * row(j, 0);
            right_(i, 0) += weight * row(i, 0) * value;
        }
    }
    /// The unknowns, and the inverse of the matrix of sums. False where there is nothing to tell them by.
    bool solve(Vector& solution, cv::Matx<double, unknowns, unknowns>& inverse) {
        for (int i = 0; i < unknowns; ++i)
            for (int j = 0; j < i; ++j) square_(j, i) = square_(i, j);
        bool solved = false;
        inverse = square_.inv(cv::DECOMP_CHOLESKY, &solved);
        solution = inverse * right_;
        return solved;
    }

  private:
    cv::Matx<double, unknowns, unknowns> square_ = cv::Matx<double, unknowns, unknowns>::zeros();
    Vector right_ = Vector::zeros();
};

/// Lays the spots over one picture, better with each round.
class Alignment {
  public:
    Alignment(const std::vector<Spot>& spots, const cv::Mat& grey, const cv::Rect& athlete, Movement start)
        : movement(start), spots_(spots), grey_(grey), athlete_(athlete), values_(spots.size(), -1) {}

    Movement movement;
    double misfit = 1;  ///< of the spots in sight, 0..1: how far they are from fitting, each at most 1
    int in_sight = 0;
    double error_px = HUGE_VAL;  ///< one standard deviation of the shift

    /// @param doubt  how much wider than the noise differences are believed at first
    void run(double doubt) {
        for (int round = 0; round < most_rounds; ++round) {
            look();
            if (in_sight < least_spots / 2) return;
            const double moved = improve(std::max(1.0, doubt / (1 << round)));
            if (moved < converged_px && (round > 1 || doubt <= 1)) break;
        }
        judge();
    }

  private:
    /// Reads the picture under every spot; -1 where it is out of sight.
    void look() {
        const auto cosine = static_cast<float>(std::cos(movement.turn_rad));
        const auto sine = static_cast<float>(std::sin(movement.turn_rad));
        const float cx = static_cast<float>(grey_.cols) / 2 + static_cast<float>(movement.x);
        const float cy = static_cast<float>(grey_.rows) / 2 + static_cast<float>(movement.y);
        in_sight = 0;
        for (std::size_t i = 0; i < spots_.size(); ++i) {
            const float x = cosine * spots_[i].x - sine * spots_[i].y + cx;
            const float y = sine * spots_[i].x + cosine * spots_[i].y + cy;
            const bool inside = x >= 0 && y >= 0 && x < static_cast<float>(grey_.cols - 1) &&
                                y < static_cast<float>(grey_.rows - 1) &&
                                !athlete_.contains({static_cast<int>(x), static_cast<int>(y)});
            values_[i] = inside ? sampled(grey_, x, y) : -1;
            in_sight += inside ? 1 : 0;
        }
    }

    [[nodiscard]] double left_at(std::size_t i) const {
        return static_cast<double>(spots_[i].share) *
               (static_cast<double>(values_[i]) - gain_ * static_cast<double>(spots_[i].grey) - offset_);
    }

    void judge() {
        look();
        misfit = 1;
        if (in_sight == 0) return;
        double sum = 0;
        for (std::size_t i = 0; i < spots_.size(); ++i)
            if (values_[i] >= 0) sum += 1 - weight_of(left_at(i) / believed_noise);
        misfit = sum / in_sight;
    }

    /// One step of Gauss and Newton; how far it went, pixels.
    double improve(double doubt) {
        left_.clear();
        for (std::size_t i = 0; i < spots_.size(); ++i)
            if (values_[i] >= 0) left_.push_back(static_cast<float>(std::abs(left_at(i))));
        const double scale = doubt * std::max(0.5, 1.4826 * middle_of(left_));
        const double cosine = std::cos(movement.turn_rad), sine = std::sin(movement.turn_rad);
        Equations equations;
        for (std::size_t i = 0; i < spots_.size(); ++i) {
            if (values_[i] < 0) continue;
            const auto x = static_cast<double>(spots_[i].x), y = static_cast<double>(spots_[i].y);
            const auto slope_x = static_cast<double>(spots_[i].dx), slope_y = static_cast<double>(spots_[i].dy);
            const double left = left_at(i);
            const auto part = static_cast<double>(spots_[i].share);
            const double dx = part * gain_ * (cosine * slope_x - sine * slope_y);
            const double dy = part * gain_ * (sine * slope_x + cosine * slope_y);
            const double turned = dy * (cosine * x - sine * y) - dx * (sine * x + cosine * y);
            equations.add({dx, dy, turned, -part * static_cast<double>(spots_[i].grey), -part}, -left,
                          weight_of(left / scale));
        }
        Vector step;
        cv::Matx<double, unknowns, unknowns> inverse;
        if (!equations.solve(step, inverse)) return 0;
        movement = {movement.x + step(0, 0), movement.y + step(1, 0), movement.turn_rad + step(2, 0)};
        gain_ += step(3, 0);
        offset_ += step(4, 0);
        error_px = scale * std::sqrt(spots_of_one_edge * std::max(inverse(0, 0), inverse(1, 1)));
        return std::hypot(step(0, 0), step(1, 0));
    }

    std::span<const Spot> spots_;
    cv::Mat grey_;
    cv::Rect athlete_;
    std::vector<float> values_, left_;
    double gain_ = 1, offset_ = 0;
};

/// From the coarsest level to the second finest; in pixels of the finest.
Movement coarsely(const std::vector<std::vector<Spot>>& spots, const std::vector<cv::Mat>& pyramid,
                  const cv::Rect& athlete, Movement start) {
    for (std::size_t level = levels - 1; level > 0; --level) {
        if (static_cast<int>(spots[level].size()) < least_spots / 2) continue;
        const double size = 1 << level;
        Alignment coarse(spots[level], pyramid[level], at_level(athlete, level),
                         {start.x / size, start.y / size, start.turn_rad});
        coarse.run(4);
        if (coarse.misfit > largest_misfit) continue;
        start = {coarse.movement.x * size, coarse.movement.y * size, coarse.movement.turn_rad};
    }
    return start;
}

/// The best of what the coarse levels say, no movement since the picture before, and none since the reference: somebody
/// who walks close by, or her shadow, draws the first away, but then the room itself fits worse.
/// @param usual  the misfit of the last whole search, which this may be
Alignment aligned(const std::vector<std::vector<Spot>>& spots, const std::vector<cv::Mat>& pyramid,
                  const cv::Rect& athlete, Movement last, double& usual) {
    const auto apart = [](const Movement& a, const Movement& b) { return std::hypot(a.x - b.x, a.y - b.y); };
    Alignment near(spots[0], pyramid[0], at_level(athlete, 0), last);
    near.run(1);
    const bool sure =
        near.misfit <= largest_misfit && near.error_px <= largest_error_px && near.in_sight >= least_spots;
    if (sure && near.misfit <= near_misfit * usual && apart(near.movement, last) < near_px) return near;
    Alignment best(spots[0], pyramid[0], at_level(athlete, 0), coarsely(spots, pyramid, athlete, last));
    best.run(2);
    if (apart(last, best.movement) >= 1 && near.misfit < best.misfit) best = near;
    if (apart({}, best.movement) >= 1) {
        Alignment unmoved(spots[0], pyramid[0], at_level(athlete, 0), {});
        unmoved.run(1);
        if (unmoved.misfit < best.misfit) best = unmoved;
    }
    usual = best.misfit;
    return best;
}

}  // namespace

Movement Movement::after(const Movement& first) const {
    const double cosine = std::cos(turn_rad), sine = std::sin(turn_rad);
    return {cosine * first.x - sine * first.y + x, sine * first.x + cosine * first.y + y, turn_rad + first.turn_rad};
}

Movement Movement::inverse() const {
    const double cosine = std::cos(turn_rad), sine = std::sin(turn_rad);
    return {-(cosine * x + sine * y), sine * x - cosine * y, -turn_rad};
}

void ShakeMeter::take_reference(const std::vector<cv::Mat>& pyramid, const cv::Rect& athlete) {
    spots_.clear();
    // What lies at the edge leaves the picture at once.
    for (std::size_t level = 0; level < levels; ++level)
        spots_.push_back(spots_in(pyramid[level], at_level(athlete, level), level == 0 ? 6 : 2));
    covered_ = (athlete & cv::Rect({0, 0}, size_)).area();
}

std::optional<Movement> ShakeMeter::measure(const cv::Mat& grey, const cv::Rect& athlete) {
    const std::vector<cv::Mat> pyramid = pyramid_of(grey);
    if (size_.empty()) {
        size_ = grey.size();
        take_reference(pyramid, athlete);
        if (static_cast<int>(spots_[0].size()) < least_spots) return std::nullopt;
        return Movement{};
    }
    const Alignment found = aligned(spots_, pyramid, athlete, last_, usual_misfit_);
    const double jump = std::hypot(found.movement.x - last_.x, found.movement.y - last_.y);
    const double in_view = static_cast<double>(found.in_sight) / static_cast<double>(spots_[0].size());
    const bool good = found.in_sight >= least_spots && in_view >= least_in_view && found.misfit <= largest_misfit &&
                      found.error_px <= largest_error_px && jump <= largest_jump * size_.width * std::min(3, 1 + lost_);
    if (good) last_ = found.movement;
    const Movement whole = last_.after(reference_);
    // Another reference where this one is lost, has moved far, or showed much less of the room than this picture does.
    const double far = 0.12 * std::min(size_.width, size_.height);
    const int covered = (athlete & cv::Rect({0, 0}, size_)).area();
    lost_ = good ? 0 : lost_ + 1;
    if (lost_ > patience || std::hypot(last_.x, last_.y) > far || covered_ - covered > size_.area() / 5) {
        lost_ = 0;
        reference_ = whole;
        last_ = {};
        usual_misfit_ = 0;
        take_reference(pyramid, athlete);
    }
    return good ? std::optional{whole} : std::nullopt;
}

}  // namespace quarterturn::body
