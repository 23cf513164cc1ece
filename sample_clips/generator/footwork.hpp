#pragma once
/// Where the feet go: a list of foot steps planned from the routine. Between its steps a foot does not move.
#include <array>
#include <vector>

#include "script.hpp"
#include "skeleton.hpp"

namespace quarterturn::sample {

struct FootStep {
    int foot = 0;  ///< 0 left, 1 right
    double lift_s = 0, land_s = 0;
    Vec from, to;                             ///< ball of the foot
    double heading_from = 0, heading_to = 0;  ///< radians, the body's heading this foot belongs to
    double turned_from = 0, turned_to = 0;    ///< radians, toes outwards
    double height = 0.035;                    ///< how high the ball is carried
};

/// A foot at one moment, with the heading it stands for.
struct FootTrack {
    Vec ball;
    double heading = 0, turned = 0;
    double swing = 0;  ///< 0 on the floor, up to 1 in the middle of a step
};

/// Plans steps one after the other; remembers where both feet stand.
class Footwork {
  public:
    Footwork(const Bones& bones, Vec place, double heading, const std::array<FootPlace, 2>& feet);

    [[nodiscard]] Vec place() const { return place_; }
    [[nodiscard]] double heading() const { return heading_; }
    [[nodiscard]] const std::vector<FootStep>& steps() const { return steps_; }

    /// Which feet have to move for this stance: 0, 1 or 2.
    [[nodiscard]] int moves_needed(double heading, const std::array<FootPlace, 2>& feet) const;
    /// Turns on the spot into a new stance with `count` foot steps (0: moves only the feet that have to).
    void turn(double start_s, double end_s, double heading, const std::array<FootPlace, 2>& feet, int count);
    /// Walks straight to `target`, already facing it. @return when the last foot has landed
    double walk(double start_s, Vec target, double cadence, double step_m, const std::array<FootPlace, 2>& feet);

    [[nodiscard]] FootTrack at(int foot, double t) const;

  private:
    struct Standing {
        Vec ball;
        double heading, turned;
    };
    [[nodiscard]] Vec ball_of(int foot, Vec place, double heading, const FootPlace& feet) const;
    void add(int foot, double lift_s, double land_s, Vec to, double heading, double turned, double height);

    const Bones& bones_;
    Vec place_;
    double heading_;
    std::array<Standing, 2> initial_, standing_;
    std::vector<FootStep> steps_;
    std::array<std::vector<std::size_t>, 2> of_foot_;
};

/// From the ball of the foot back to the point below the hip in easy standing, metres.
[[nodiscard]] double ball_ahead_of_hip(const Bones& bones);

}  // namespace quarterturn::sample
