#pragma once
/// The displacements of a whole clip, kept small: one byte a component, about 5 MB a minute.
#include <cstdint>
#include <span>
#include <vector>

#include "body/step_flow.hpp"

namespace quarterturn::body {

/// From one measured picture to the next, true seconds.
struct Step {
    double from_s = 0, to_s = 0;
    cv::Vec2f shake;   ///< pixels of the reduced picture
    float energy = 0;  ///< grey levels above the noise
    [[nodiscard]] double middle_s() const { return (from_s + to_s) / 2; }
};

class MotionRecord {
  public:
    /// Steps must follow one another; all of one grid size, others are left out.
    void add(double from_s, double to_s, const StepFlow& flow);

    [[nodiscard]] int columns() const { return columns_; }
    [[nodiscard]] int rows() const { return rows_; }
    [[nodiscard]] std::size_t cells() const;
    [[nodiscard]] std::span<const Step> steps() const { return steps_; }

    /// Velocity of each cell around the middle of step `at`, pixels per second: displacements averaged as vectors over
    /// `window_s`, so that what goes to and fro within it cancels and nothing is shifted in time.
    void velocities(std::size_t at, double window_s, std::vector<cv::Vec2f>& out) const;

  private:
    int columns_ = 0, rows_ = 0;
    std::vector<Step> steps_;
    std::vector<std::int8_t> kept_;  ///< x, y of every cell of every step
};

/// How fast each cell moves around each step, whatever the direction.
class SpeedRecord {
  public:
    /// From velocities averaged over `window_s`.
    SpeedRecord(const MotionRecord& record, double window_s);

    [[nodiscard]] int columns() const { return columns_; }
    [[nodiscard]] int rows() const { return rows_; }
    [[nodiscard]] std::span<const Step> steps() const { return steps_; }
    /// By cell, in `unit_px` per second.
    [[nodiscard]] std::span<const std::uint16_t> at(std::size_t step) const {
        return std::span(speeds_).subspan(step * cells_, cells_);
    }
    static constexpr double unit_px = 1.0 / 32;

  private:
    int columns_, rows_;
    std::size_t cells_;
    std::span<const Step> steps_;  ///< of the record, which must outlive this
    std::vector<std::uint16_t> speeds_;
};

}  // namespace quarterturn::body
