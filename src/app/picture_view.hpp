#pragma once
/// From places in the picture to places on the screen and back: fit, zoom, pan, tilt and mirror.
#include <array>

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
    double tilt_deg = 0;  ///< the picture is turned clockwise by so much, before any mirroring
};

/// How the picture lies on the stage.
class PictureView {
  public:
    /// @param aspect  shown width over height of the picture, > 0
    PictureView(const Box& stage, double aspect, const Zooming& zooming);

    [[nodiscard]] ScreenSpot to_screen(Spot spot) const;
    [[nodiscard]] Spot to_picture(ScreenSpot place) const;
    /// The whole picture on screen as it would lie without a tilt; may reach beyond the stage.
    [[nodiscard]] const Box& picture() const { return picture_; }
    /// Where the picture's corners are on screen: as filmed top left, top right, bottom right, bottom left.
    [[nodiscard]] std::array<ScreenSpot, 4> corners() const;
    [[nodiscard]] bool mirrored() const { return mirrored_; }

  private:
    Box picture_;
    Spot centre_;  // in the middle of the stage, at middle_
    ScreenSpot middle_;
    double cosine_ = 1, sine_ = 0;
    bool mirrored_;
};

/// Zooms by `by` so that the place under `at` stays there. Keeps the picture on the stage.
[[nodiscard]] Zooming zoomed(const Zooming& zooming, const Box& stage, double aspect, double by, ScreenSpot at);
/// Moves the picture with the pointer by (dx, dy) pixels.
[[nodiscard]] Zooming panned(const Zooming& zooming, const Box& stage, double aspect, float dx, float dy);

}  // namespace quarterturn::app
