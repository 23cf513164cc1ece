#pragma once
/// What colour things are and how the light falls on them. Colours here are linear light, 0..1.
#include "flesh.hpp"
#include "script.hpp"

namespace quarterturn::sample {

struct Paint {
    Rgb colour{};
    double shine = 0;  ///< strength of the highlight
};

/// From a screen colour.
[[nodiscard]] Rgb linear(const Rgb& screen);

/// Smooth noise in -1..1 over space, about one bump per unit.
[[nodiscard]] double bumps(Vec p, std::uint32_t seed);

/// Skin, hair, suit and face of one body, fixed to its parts.
class BodyPaint {
  public:
    BodyPaint(const BodyShape& shape, bool clothed);
    [[nodiscard]] Paint at(Vec p, const PartTag& tag, const FieldPart& part, const PaintFrames& frames,
                           double height) const;

  private:
    [[nodiscard]] Paint skin(Vec where, double scale) const;
    [[nodiscard]] bool in_suit(Vec pelvis) const;
    [[nodiscard]] bool in_top(Vec chest) const;
    [[nodiscard]] Paint face(Vec head, Paint base) const;
    [[nodiscard]] double marks(Vec chest, Vec pelvis) const;

    BodyShape shape_;
    bool clothed_;
    Rgb skin_, hair_, suit_;
};

/// Towards the key light, unit.
[[nodiscard]] Vec key_light();
/// Light from a surface of this colour: `open` share of the surroundings seen, `lit` share of the key light received.
[[nodiscard]] Rgb lit_surface(const Paint& paint, Vec normal, Vec to_eye, double open, double lit);

/// The room without anybody in it.
class RoomPaint {
  public:
    explicit RoomPaint(const Script& script);
    struct Spot {
        Rgb colour{};
        Vec point;
    };
    /// What a ray from `eye` along `way` meets, in full light; `light` multiplies into the shadow.
    [[nodiscard]] Spot look(Vec eye, Vec way) const;
    /// Share of the brightness that is left in the key light's shadow.
    static constexpr double in_shadow = 0.52;

  private:
    [[nodiscard]] Rgb wall(double x, double y) const;
    [[nodiscard]] Rgb floor(double x, double z) const;
    struct Thing {
        double x, y, half_x, half_y;
        Rgb colour;
        bool round;
    };
    double wall_z_;
    std::uint32_t seed_;
    std::vector<Thing> things_;
};

}  // namespace quarterturn::sample
