#include "body/motion_record.hpp"

#include <algorithm>
#include <cmath>

namespace quarterturn::body {
namespace {

constexpr float steps_per_px = 32;  // up to +-4 pixels, beyond the method's reach

std::int8_t kept(float px) {
    return static_cast<std::int8_t>(std::clamp(std::lround(px * steps_per_px), -127L, 127L));
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
    for (const cv::Vec2f& v : flow.flow) {
        kept_.push_back(kept(v[0]));
        kept_.push_back(kept(v[1]));
    }
}

void MotionRecord::velocities(std::size_t at, double window_s, std::vector<cv::Vec2f>& out) const {
    out.assign(cells(), cv::Vec2f(0, 0));
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
        const std::int8_t* values = kept_.data() + 2 * cells() * i;
        for (cv::Vec2f& sum : out) {
            sum[0] += weight * static_cast<float>(values[0]);
            sum[1] += weight * static_cast<float>(values[1]);
            values += 2;
        }
    }
    const auto rate = static_cast<float>(1 / seconds);
    for (cv::Vec2f& sum : out) sum *= rate;
}

}  // namespace quarterturn::body
