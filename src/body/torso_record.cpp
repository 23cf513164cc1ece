#include "body/torso_record.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quarterturn::body {
namespace {

// The window against the distance from shoulders to hips: somewhat beyond the bands that are followed.
constexpr double above_share = 0.10, below_share = 0.42, aside_share = 0.38;
// The outline is looked for as far to either side.
constexpr double reach_share = 0.85;
// Pictures are reduced (by halves) until shoulders and hips are no further apart.
constexpr double longest_trunk = 235;

/// Where the kept picture lies; its edges coincide with those of every other of the same step, so that nothing is
/// blurred by interpolating.
struct Window {
    double left = 0, top = 0;
    int columns = 0, rows = 0;
};

Window window_for(const TorsoPicture& seen, double step) {
    const Point top = seen.shoulders(), bottom = seen.hips();
    const double length = bottom.y - top.y, middle = (top.x + bottom.x) / 2;
    const double half = aside_share * length + std::abs(top.x - bottom.x) / 2;
    const auto on_grid = [&](double value) { return std::floor(value / step) * step; };
    const double left = on_grid(middle - half), upper = on_grid(top.y - above_share * length);
    return {left, upper, static_cast<int>((middle + half - left) / step) + 1,
            static_cast<int>((bottom.y + below_share * length - upper) / step) + 1};
}

/// Turns about the picture's middle.
class Turning {
  public:
    Turning(const PictureView& view, double clockwise_deg)
        : cx_(view.width() / 2), cy_(view.height() / 2), angle_rad_(clockwise_deg * std::numbers::pi / 180) {}
    [[nodiscard]] Point turned(Point p, double direction = 1) const {
        const double cosine = std::cos(angle_rad_), sine = direction * std::sin(angle_rad_);
        return {cx_ + cosine * (p.x - cx_) - sine * (p.y - cy_), cy_ + sine * (p.x - cx_) + cosine * (p.y - cy_)};
    }
    [[nodiscard]] Point turned(const Landmark& mark) const {
        return turned(Point{static_cast<double>(mark.x), static_cast<double>(mark.y)});
    }
    [[nodiscard]] Region turned(const Region& region) const {
        return {turned(region.centre), region.side, region.angle_rad + angle_rad_};
    }
    [[nodiscard]] Region back(const Region& region) const {
        return {turned(region.centre, -1), region.side, region.angle_rad - angle_rad_};
    }

  private:
    double cx_, cy_, angle_rad_;
};

}  // namespace

void TorsoRecord::see(const Observation& observation) {
    const LandmarkFrame& frame = observation.frame;
    if (!frame.body || !frame.held || !frame.region || observation.mask.empty()) return;
    const Turning upright{observation.view, tilt_deg_};
    TorsoPicture seen;
    seen.pts = frame.pts;
    seen.left_shoulder = upright.turned((*frame.body)[Joint::left_shoulder]);
    seen.right_shoulder = upright.turned((*frame.body)[Joint::right_shoulder]);
    seen.left_hip = upright.turned((*frame.body)[Joint::left_hip]);
    seen.right_hip = upright.turned((*frame.body)[Joint::right_hip]);
    if (seen.hips().y - seen.shoulders().y < 16) return;  // too small, or lying down
    const double length = std::hypot(seen.hips().x - seen.shoulders().x, seen.hips().y - seen.shoulders().y);
    if (region_ != frame.region) {
        step_ = 1;
        while (length / step_ > longest_trunk) step_ *= 2;
        region_ = frame.region;
    }
    const Window window = window_for(seen, step_);
    // At a step of 2 each sample falls between four pixels and so is their mean: reading all of them first would cost
    // more than the network at 1080 x 1920.
    const int longer = std::max(window.columns, window.rows);
    const int pixels = longer + longer % 2;
    const double side = pixels * step_;
    seen.grey =
        PackedGrey{observation.view.grey(upright.back({{window.left + side / 2, window.top + side / 2}, side, 0}),
                                         pixels, {window.columns, window.rows})};
    seen.origin = {window.left, window.top};
    seen.step = step_;
    seen.edges = torso_edges(observation.mask, upright.turned(*frame.region), seen.shoulders(), seen.hips(),
                             reach_share * length);
    pictures_.push_back(std::move(seen));
}

std::vector<TorsoPicture> take_torso_pictures(std::span<ObservedPart> parts) {
    std::vector<TorsoPicture> out;
    for (ObservedPart& part : parts) {
        auto* record = dynamic_cast<TorsoRecord*>(part.observer.get());
        if (record == nullptr) continue;
        for (TorsoPicture& picture : record->pictures())
            if (picture.pts >= part.from_pts && picture.pts <= part.to_pts) out.push_back(std::move(picture));
        record->pictures().clear();
    }
    return out;
}

}  // namespace quarterturn::body
