#include "body/one_euro.hpp"

#include <cmath>
#include <numbers>

namespace quarterturn::body {

double one_euro_weight(double cutoff_hz, double dt_s) {
    const double tau = 1 / (2 * std::numbers::pi * cutoff_hz);
    return 1 / (1 + tau / dt_s);
}

double OneEuro::next(double value, double dt_s) {
    if (!value_) {
        value_ = value;
        return value;
    }
    if (dt_s <= 0) return *value_;
    const double raw_speed = (value - *value_) / dt_s;
    speed_ += one_euro_weight(settings_.derivative_cutoff_hz, dt_s) * (raw_speed - speed_);
    const double cutoff = settings_.min_cutoff_hz + settings_.beta * std::abs(speed_);
    *value_ += one_euro_weight(cutoff, dt_s) * (value - *value_);
    return *value_;
}

void OneEuro::reset(double value) {
    value_ = value;
    speed_ = 0;
}

}  // namespace quarterturn::body
