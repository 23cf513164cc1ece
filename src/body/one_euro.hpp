#pragma once
/// A low-pass filter that smooths more the slower the signal moves.
/// Source: Casiez, Roussel, Vogel, "1 euro filter", CHI 2012; the speed is taken from the last filtered value, as in
/// the paper's listing.
#include <optional>

namespace quarterturn::body {

struct OneEuroSettings {
    double min_cutoff_hz = 1;         ///< at rest
    double beta = 0;                  ///< how fast the cutoff grows with speed: Hz per unit per second
    double derivative_cutoff_hz = 1;  ///< of the speed itself
};

class OneEuro {
  public:
    explicit OneEuro(OneEuroSettings settings) : settings_(settings) {}

    /// The filtered value. The first value passes unchanged; `dt_s` is the time since the one before, and a value that
    /// is not later (dt_s <= 0) replaces nothing: the last result is given again.
    double next(double value, double dt_s);

    /// The last result, if any.
    [[nodiscard]] std::optional<double> value() const { return value_; }
    /// Filtered speed, units per second.
    [[nodiscard]] double speed() const { return speed_; }

    /// Starts again from `value` at rest.
    void reset(double value);

  private:
    OneEuroSettings settings_;
    std::optional<double> value_;
    double speed_ = 0;
};

/// Weight of the new value for a cutoff and a step: 1 / (1 + tau / dt), tau = 1 / (2 pi cutoff).
[[nodiscard]] double one_euro_weight(double cutoff_hz, double dt_s);

}  // namespace quarterturn::body
