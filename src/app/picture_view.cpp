#include "app/picture_view.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quarterturn::app {
namespace {

constexpr double largest_zoom = 16;

constexpr double wide(float value) {
    return static_cast<double>(value);
}

// The centre may not leave the picture so far that the stage shows nothing of it.
double kept(double centre, double visible_share) {
    if (visible_share >= 1) return 0.5;
    const double half = visible_share / 2;
    return std::clamp(centre, half, 1 - half);
}

Zooming kept_on_stage(Zooming zooming, const Box& stage, double aspect) {
    zooming.factor = std::clamp(zooming.factor, 1.0, largest_zoom);
    const Box whole = fit(stage, aspect);
    zooming.centre.x = kept(zooming.centre.x, wide(stage.w) / (wide(whole.w) * zooming.factor));
    zooming.centre.y = kept(zooming.centre.y, wide(stage.h) / (wide(whole.h) * zooming.factor));
    return zooming;
}

}  // namespace

PictureView::PictureView(const Box& stage, double aspect, const Zooming& zooming)
    : centre_(zooming.centre),
      middle_{stage.x + stage.w / 2, stage.y + stage.h / 2},
      cosine_(std::cos(zooming.tilt_deg * std::numbers::pi / 180)),
      sine_(std::sin(zooming.tilt_deg * std::numbers::pi / 180)),
      mirrored_(zooming.mirrored) {
    const Box whole = fit(stage, aspect);
    const double w = static_cast<double>(whole.w) * zooming.factor;
    const double h = static_cast<double>(whole.h) * zooming.factor;
    const double cx = mirrored_ ? 1 - centre_.x : centre_.x;
    picture_ = {static_cast<float>(wide(middle_.x) - cx * w), static_cast<float>(wide(middle_.y) - centre_.y * h),
                static_cast<float>(w), static_cast<float>(h)};
}

ScreenSpot PictureView::to_screen(Spot spot) const {
    const double x = (spot.x - centre_.x) * wide(picture_.w), y = (spot.y - centre_.y) * wide(picture_.h);
    const double turned = cosine_ * x - sine_ * y;
    return {static_cast<float>(wide(middle_.x) + (mirrored_ ? -turned : turned)),
            static_cast<float>(wide(middle_.y) + sine_ * x + cosine_ * y)};
}

Spot PictureView::to_picture(ScreenSpot place) const {
    const double across = wide(place.x - middle_.x), y = wide(place.y - middle_.y);
    const double x = mirrored_ ? -across : across;
    return {centre_.x + (cosine_ * x + sine_ * y) / wide(picture_.w),
            centre_.y + (cosine_ * y - sine_ * x) / wide(picture_.h)};
}

std::array<ScreenSpot, 4> PictureView::corners() const {
    return {to_screen({0, 0}), to_screen({1, 0}), to_screen({1, 1}), to_screen({0, 1})};
}

Zooming zoomed(const Zooming& zooming, const Box& stage, double aspect, double by, ScreenSpot at) {
    const Spot under = PictureView(stage, aspect, zooming).to_picture(at);
    Zooming next = zooming;
    next.factor = std::clamp(zooming.factor * by, 1.0, largest_zoom);
    // Put the spot back under the pointer: move the centre by the way it slid off.
    const Spot slid = PictureView(stage, aspect, next).to_picture(at);
    next.centre.x += under.x - slid.x;
    next.centre.y += under.y - slid.y;
    return kept_on_stage(next, stage, aspect);
}

Zooming panned(const Zooming& zooming, const Box& stage, double aspect, float dx, float dy) {
    const PictureView view(stage, aspect, zooming);
    const Spot from = view.to_picture({0, 0}), to = view.to_picture({dx, dy});
    Zooming next = zooming;
    next.centre.x -= to.x - from.x;
    next.centre.y -= to.y - from.y;
    return kept_on_stage(next, stage, aspect);
}

}  // namespace quarterturn::app
