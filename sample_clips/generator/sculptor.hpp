#pragma once
/// Adds parts to a field in units of body height, in the frame of a bone.
#include "flesh.hpp"

namespace quarterturn::sample {

class Sculptor {
  public:
    Sculptor(double height, std::uint8_t body, Flesh& flesh) : h_(height), body_(body), flesh_(flesh) {}

    void region(Region region) { region_ = region; }
    void blend(double of_height) { blend_ = of_height; }

    /// An ellipsoid; everything in body heights, centre in the frame's coordinates from `at` (world).
    void ball(Vec at, const Frame& frame, Vec centre, Vec radii);
    /// The same, turned by `turn` within the frame.
    void ball(Vec at, const Frame& frame, Vec centre, Vec radii, const Frame& turn);
    /// A round cone from `from` to `to` (world) with radii in body heights and a belly between; `front` is where its z
    /// points, `wide` and `deep` stretch it across and along that.
    void limb(Vec from, Vec to, Vec front, double first, double last, double belly = 0, double wide = 1,
              double deep = 1);
    /// A capsule for shadows only; radius in body heights.
    void shadow(Vec from, Vec to, double radius);

  private:
    void add(FieldPart part, Vec middle, double reach);

    double h_;
    std::uint8_t body_;
    Flesh& flesh_;
    Region region_ = Region::trunk;
    double blend_ = 0.02;
};

}  // namespace quarterturn::sample
