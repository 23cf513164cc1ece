#pragma once
/// The fit behind surface_motion: lays a band of the trunk over a later picture of it, every pixel at once, and so
/// finds how far it turned.
///
/// Direct alignment by least squares (Lucas and Kanade 1981; Baker and Matthews 2004) with Huber's weights (1964): a
/// pixel of the reference x beside the band's middle and y below it, whose surface is `nearer` to the camera than the
/// axis, is looked for at
///
///     dx = tx - phi y + s x + nearer sin(psi) + x (cos(psi) - 1)
///     dy = ty + phi x + s y
///
/// with one change of brightness for all, and the outline's movement as a tie: tx - phi edge_y = edge_shift. Without it
/// shift and turn look alike. Each pixel counts by its own slope, so that the level edge of a strap, which shows
/// nothing of a movement across, or smooth shading, which stays where the light puts it, says little beside a furrow.
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "body/torso_record.hpp"
#include "body/trunk_section.hpp"

namespace quarterturn::body {

/// Where a band lies in the reference picture and how deep it is.
struct BandShape {
    Point centre;
    TrunkSection section;
    double ahead = 0;  ///< of the axis of the turn: added to what the section says is nearer, pixels
};

/// What is known of a picture before the surface is looked at; pixels, to the right and down, against the reference.
struct OutlineShift {
    double shift = 0;  ///< of the outline's middle
    double y = 0;      ///< where, from the band's centre in the reference
    Point surface;     ///< how the surface moved, roughly: within about two pixels of the kept picture
};

class SurfaceAlignment {
  public:
    /// @param where  non-zero where the surface is; as large as the reference's grey picture
    SurfaceAlignment(const TorsoPicture& reference, const cv::Mat& where, const BandShape& shape);

    /// Radians about the vertical; positive moves the near surface to the right. Absent where the surface is too small
    /// or leaves the picture, and further than a trunk turns.
    [[nodiscard]] std::optional<double> turn_in(const TorsoPicture& picture, const OutlineShift& outline) const;

  private:
    /// A pixel of the surface; places in picture pixels from the band's centre, slopes in grey levels per picture
    /// pixel.
    struct Spot {
        double x = 0, y = 0, nearer = 0;
        double slope_x = 0, slope_y = 0, grey = 0;
        double column = 0, row = 0;  ///< in the reference's grey picture
    };
    static constexpr int unknowns = 6;  // tx, ty, phi, s, psi, brightness
    using Solution = cv::Vec<double, unknowns>;

    /// What each spot's own grey has beyond that of its place; NaN: out of the picture.
    [[nodiscard]] std::vector<double> left_in(const cv::Mat& grey, const Solution& now, Point offset) const;
    [[nodiscard]] std::optional<Solution> step(const std::vector<double>& left, const Solution& now,
                                               const OutlineShift& outline) const;

    std::vector<Spot> spots_;
    double step_ = 1;
    Point origin_;
    double tie_weight_ = 0;
    double deepest_ = 0;  ///< the spot nearest to the camera
};

}  // namespace quarterturn::body
