#include "body/facing.hpp"

#include <algorithm>
#include <cmath>

#include "body/facing_evidence.hpp"

namespace quarterturn::body {
namespace {

using Steps = std::vector<double>;  ///< one value per direction

std::size_t wrapped(int step) {
    return static_cast<std::size_t>((step % facing_steps + facing_steps) % facing_steps);
}

/// The chain over the frames in which somebody was seen.
class Chain {
  public:
    Chain(const BodyCourse& course, const FacingSettings& settings) : settings_(settings) {
        const BodyWidths widths = widths_of(course);
        for (std::size_t i = 0; i < course.frames.size(); ++i) {
            if (!course.frames[i].present) continue;
            ranks_.push_back(i);
            times_.push_back(course.frames[i].t_s);
            // Somebody else's body says nothing about hers.
            Steps evidence = course.frames[i].company ? Steps(facing_steps) : facing_evidence(course.frames[i], widths);
            for (double& value : evidence) value *= settings_.evidence_share;
            evidence_.push_back(std::move(evidence));
        }
    }

    [[nodiscard]] std::size_t size() const { return ranks_.size(); }
    [[nodiscard]] std::size_t rank(std::size_t i) const { return ranks_[i]; }
    [[nodiscard]] const Steps& evidence(std::size_t i) const { return evidence_[i]; }
    /// Furthest turn from frame i - 1 to i, in steps.
    [[nodiscard]] int reach(std::size_t i) const {
        const double degrees = settings_.fastest_deg_per_s * (times_[i] - times_[i - 1]);
        return std::clamp(static_cast<int>(degrees / facing_step_deg), 1, facing_steps / 2);
    }
    [[nodiscard]] double turn_log(int steps) const {
        return -std::abs(steps) * facing_step_deg / settings_.easy_turn_deg;
    }

    /// Total turn along the most likely path, in steps from direction 0.
    [[nodiscard]] std::vector<int> likeliest() const;
    /// Log posterior of each direction in each frame, up to a constant per frame.
    [[nodiscard]] std::vector<Steps> posterior() const;

  private:
    [[nodiscard]] Steps passed_on(const Steps& from, int reach) const;

    FacingSettings settings_;
    std::vector<std::size_t> ranks_;
    std::vector<double> times_;
    std::vector<Steps> evidence_;
};

std::vector<int> Chain::likeliest() const {
    Steps best = evidence_.front();
    std::vector<std::vector<int>> came_by(size());  // turn that led to each direction
    for (std::size_t i = 1; i < size(); ++i) {
        Steps next(facing_steps);
        came_by[i].resize(facing_steps);
        for (int to = 0; to < facing_steps; ++to) {
            double most = -HUGE_VAL;
            for (int turn = -reach(i); turn <= reach(i); ++turn) {
                const double value = best[wrapped(to - turn)] + turn_log(turn);
                if (value <= most) continue;
                most = value;
                came_by[i][static_cast<std::size_t>(to)] = turn;
            }
            next[static_cast<std::size_t>(to)] = most + evidence_[i][static_cast<std::size_t>(to)];
        }
        best = std::move(next);
    }
    std::vector<int> path(size());
    int at = static_cast<int>(std::max_element(best.begin(), best.end()) - best.begin());
    std::vector<int> turns(size());
    for (std::size_t i = size(); i-- > 1;) {
        turns[i] = came_by[i][wrapped(at)];
        at -= turns[i];
    }
    path[0] = static_cast<int>(wrapped(at));
    if (path[0] > facing_steps / 2) path[0] -= facing_steps;
    for (std::size_t i = 1; i < size(); ++i) path[i] = path[i - 1] + turns[i];
    return path;
}

Steps Chain::passed_on(const Steps& from, int reach) const {
    const double top = *std::max_element(from.begin(), from.end());
    Steps out(facing_steps);
    for (int to = 0; to < facing_steps; ++to) {
        double sum = 0;
        for (int turn = -reach; turn <= reach; ++turn) sum += std::exp(from[wrapped(to - turn)] - top + turn_log(turn));
        out[static_cast<std::size_t>(to)] = top + std::log(sum);
    }
    return out;
}

std::vector<Steps> Chain::posterior() const {
    std::vector<Steps> out(size());
    out[0] = evidence_[0];
    for (std::size_t i = 1; i < size(); ++i) {
        out[i] = passed_on(out[i - 1], reach(i));
        for (std::size_t k = 0; k < facing_steps; ++k) out[i][k] += evidence_[i][k];
    }
    Steps later(facing_steps, 0);
    for (std::size_t i = size(); i-- > 1;) {
        for (std::size_t k = 0; k < facing_steps; ++k) later[k] += evidence_[i][k];
        later = passed_on(later, reach(i));
        for (std::size_t k = 0; k < facing_steps; ++k) out[i - 1][k] += later[k];
    }
    return out;
}

struct Angle {
    double mean_deg, error_deg;
};

/// Mean of the posterior within 45 degrees of the path.
Angle about(const Steps& posterior, int path) {
    constexpr int near = 9;
    double top = -HUGE_VAL;
    for (int away = -near; away <= near; ++away) top = std::max(top, posterior[wrapped(path + away)]);
    double sum = 0, first = 0, second = 0;
    for (int away = -near; away <= near; ++away) {
        const double weight = std::exp(posterior[wrapped(path + away)] - top);
        sum += weight;
        first += weight * away;
        second += weight * away * away;
    }
    const double mean = first / sum;
    const double spread = std::sqrt(std::max(0.0, second / sum - mean * mean) + 1.0 / 12);
    return {(path + mean) * facing_step_deg, spread * facing_step_deg};
}

}  // namespace

FacingSeries facing_of(const BodyCourse& course, const FacingSettings& settings) {
    FacingSeries out{std::vector<std::optional<double>>(course.frames.size()),
                     std::vector<std::optional<double>>(course.frames.size())};
    const Chain chain(course, settings);
    if (chain.size() == 0) return out;
    const std::vector<int> path = chain.likeliest();
    const std::vector<Steps> posterior = chain.posterior();
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const Angle angle = about(posterior[i], path[i]);
        out.yaw_deg[chain.rank(i)] = angle.mean_deg;
        out.error_deg[chain.rank(i)] = angle.error_deg;
    }
    return out;
}

}  // namespace quarterturn::body
