#include "body/motion_record.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::body {
namespace {

constexpr float steps_per_px = 32;  // up to +-4 pixels, beyond the method's reach

std::int8_t kept(float px) {
    const float steps = std::clamp(px * steps_per_px, -127.0F, 127.0F);
    return static_cast<std::int8_t>(steps + (steps < 0 ? -0.5F : 0.5F));
}

void add_weighted(const std::int8_t* __restrict values, std::size_t count, float weight, float* __restrict sums) {
    for (std::size_t k = 0; k < count; ++k) sums[k] += weight * static_cast<float>(values[k]);
}

}  // namespace

std::size_t MotionRecord::cells() const {
    return static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_);
}

void MotionRecord::add(double from_s, double to_s, const StepFlow& flow) {
    if (steps_.empty()) {
        columns_ = flow.columns;
        rows_ = flow.rows;
    }
    if (flow.columns != columns_ || flow.rows != rows_ || !(to_s > from_s)) return;
    steps_.push_back({from_s, to_s, flow.shake, flow.energy});
    kept_.resize(kept_.size() + 2 * cells());
    std::int8_t* out = kept_.data() + kept_.size() - 2 * cells();
    for (const cv::Vec2f& v : flow.flow) {
        *out++ = kept(v[0]);
        *out++ = kept(v[1]);
    }
}

void MotionRecord::velocities(std::size_t at, double window_s, std::vector<cv::Vec2f>& out) const {
    out.assign(cells(), cv::Vec2f(0, 0));
    if (out.empty()) return;
    const double middle = steps_[at].middle_s();
    double first = middle - window_s / 2;
    double last = middle + window_s / 2;
    // Pictures further apart than the window are all there is.
    first = std::min(first, steps_[at].from_s);
    last = std::max(last, steps_[at].to_s);
    std::size_t from = at;
    while (from > 0 && steps_[from - 1].to_s > first) --from;
    double seconds = 0;
    for (std::size_t i = from; i < steps_.size() && steps_[i].from_s < last; ++i) {
        const double overlap = std::min(last, steps_[i].to_s) - std::max(first, steps_[i].from_s);
        if (overlap <= 0) continue;
        const double length = steps_[i].to_s - steps_[i].from_s;
        seconds += overlap;
        const auto weight = static_cast<float>(overlap / length / static_cast<double>(steps_per_px));
        add_weighted(kept_.data() + 2 * cells() * i, 2 * cells(), weight, &out.front()[0]);
    }
    const auto rate = static_cast<float>(1 / seconds);
    for (cv::Vec2f& sum : out) sum *= rate;
}

SpeedRecord::SpeedRecord(const MotionRecord& record, double window_s)
    : columns_(record.columns()), rows_(record.rows()), cells_(record.cells()), steps_(record.steps()) {
    std::vector<cv::Vec2f> velocities;
    speeds_.resize(cells_ * steps_.size());
    std::uint16_t* out = speeds_.data();
    for (std::size_t i = 0; i < steps_.size(); ++i) {
        record.velocities(i, window_s, velocities);
        for (const cv::Vec2f& v : velocities) {
            const float speed = std::sqrt(v[0] * v[0] + v[1] * v[1]) / static_cast<float>(unit_px);
            *out++ = static_cast<std::uint16_t>(std::min(speed, 65535.0F));
        }
    }
}

}  // namespace quarterturn::body
