#pragma once
/// From places in the picture to places on the screen and back: fit, zoom, pan and mirror.
#include "app/layout.hpp"

namespace quarterturn::app {

/// A place in the upright picture as filmed (not mirrored): 0,0 top left, 1,1 bottom right.
struct Spot {
    double x = 0, y = 0;
    bool operator==(const Spot&) const = default;
};

struct ScreenSpot {
    float x = 0, y = 0;
};

struct Zooming {
    double factor = 1;      ///< 1: the whole picture fits; up to 16
    Spot centre{0.5, 0.5};  ///< what is in the middle of the stage
    bool mirrored = false;
};

/// How the picture lies on the stage.
class PictureView {
  public:
    /// @param aspect  shown width over height of the picture, > 0
    PictureView(const Box& stage, double aspect, const Zooming& zooming);

    [[nodiscard]] ScreenSpot to_screen(Spot spot) const;
    [[nodiscard]] Spot to_picture(ScreenSpot place) const;
    /// The whole picture on screen; may reach beyond the stage.
    [[nodiscard]] const Box& picture() const { return picture_; }
    [[nodiscard]] bool mirrored() const { return mirrored_; }

  private:
    Box picture_;
    bool mirrored_;
};

/// Zooms by `by` so that the place under `at` stays there. Keeps the picture on the stage.
[[nodiscard]] Zooming zoomed(const Zooming& zooming, const Box& stage, double aspect, double by, ScreenSpot at);
/// Moves the picture with the pointer by (dx, dy) pixels.
[[nodiscard]] Zooming panned(const Zooming& zooming, const Box& stage, double aspect, float dx, float dy);

}  // namespace quarterturn::app
