#pragma once
/// A script as movement: the skeleton at any time, exactly, without drawing anything.
#include <memory>
#include <random>
#include <vector>

#include "footwork.hpp"
#include "script.hpp"
#include "skeleton.hpp"

namespace quarterturn::sample {

/// When one step of the script happens. Poses: the movement into it lasts from start to arrive, it is kept until
/// depart.
struct StepTimes {
    std::size_t step = 0;  ///< rank in Script::steps
    double start_s = 0, arrive_s = 0, depart_s = 0;
};

class Timeline {
  public:
    explicit Timeline(const Script& script);
    /// The person who walks through the picture behind or before the athlete; needs script.room.spectator.
    [[nodiscard]] static Timeline spectator(const Script& script);

    [[nodiscard]] double duration_s() const { return duration_s_; }
    [[nodiscard]] const Script& script() const { return *script_; }
    [[nodiscard]] const Bones& bones() const { return *bones_; }
    [[nodiscard]] const std::vector<StepTimes>& times() const { return times_; }
    [[nodiscard]] const std::vector<FootStep>& foot_steps() const { return feet_->steps(); }

    /// `t` in seconds from the start, clamped to the film.
    [[nodiscard]] Skeleton at(double t) const;

  private:
    struct Blend {
        double start_s, end_s;
        Posture to;
    };
    struct Sine {
        double hz, phase, size;
    };

    Timeline(Script script, Vec place, double heading);
    void plan();
    void plan_walk(const Step& step, double& t, StepTimes& times);
    void plan_pose(const Step& step, double& t, StepTimes& times);
    void face(double heading, double& t);
    void blend_to(double start_s, double end_s, const Posture& posture);
    void make_tracks();
    [[nodiscard]] Posture posture_at(double t) const;
    [[nodiscard]] double walking_at(double t) const;
    [[nodiscard]] Stand stand_at(double t) const;
    void wobble(double t, Posture& posture, Stand& stand) const;
    static void wobble_trunk(const Disturbance& d, double wave, Posture& posture, Stand& stand);
    void wobble_arm(const Disturbance& d, double soft, double since, double part, ArmPosture& arm) const;

    std::shared_ptr<const Script> script_;
    std::shared_ptr<const Bones> bones_;
    std::shared_ptr<Footwork> feet_;
    Posture first_;
    std::vector<Blend> blends_;
    std::vector<StepTimes> times_;
    std::vector<std::pair<double, double>> walks_;
    double duration_s_ = 0;
    std::vector<double> x_, y_, z_, yaw_;       ///< pelvis, on a fine grid
    std::array<std::vector<Sine>, 2> natural_;  ///< across and along the camera's view
    std::vector<Sine> fidget_;
};

}  // namespace quarterturn::sample
