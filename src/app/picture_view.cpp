#include "app/picture_view.hpp"

#include <algorithm>

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

PictureView::PictureView(const Box& stage, double aspect, const Zooming& zooming) : mirrored_(zooming.mirrored) {
    const Box whole = fit(stage, aspect);
    const double w = static_cast<double>(whole.w) * zooming.factor;
    const double h = static_cast<double>(whole.h) * zooming.factor;
    const double cx = mirrored_ ? 1 - zooming.centre.x : zooming.centre.x;
    picture_ = {static_cast<float>(wide(stage.x) + wide(stage.w) / 2 - cx * w),
                static_cast<float>(wide(stage.y) + wide(stage.h) / 2 - zooming.centre.y * h), static_cast<float>(w),
                static_cast<float>(h)};
}

ScreenSpot PictureView::to_screen(Spot spot) const {
    const double x = mirrored_ ? 1 - spot.x : spot.x;
    return {static_cast<float>(wide(picture_.x) + x * wide(picture_.w)),
            static_cast<float>(wide(picture_.y) + spot.y * wide(picture_.h))};
}

Spot PictureView::to_picture(ScreenSpot place) const {
    const double x = wide(place.x - picture_.x) / wide(picture_.w);
    const double y = wide(place.y - picture_.y) / wide(picture_.h);
    return {mirrored_ ? 1 - x : x, y};
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
    const Box picture = PictureView(stage, aspect, zooming).picture();
    Zooming next = zooming;
    next.centre.x -= wide(zooming.mirrored ? -dx : dx) / wide(picture.w);
    next.centre.y -= wide(dy) / wide(picture.h);
    return kept_on_stage(next, stage, aspect);
}

}  // namespace quarterturn::app
