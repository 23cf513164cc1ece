#pragma once
/// The body as one signed-distance field of smoothly joined parts, searched along rays, eight at a time. The same
/// source is built for plain x86-64 (or any other machine) and for AVX2; the choice is made when the program runs and
/// both give the same numbers (no fused multiply-add).
#include <array>
#include <cstdint>
#include <vector>

namespace quarterturn::sample {

/// A stretched round cone with a belly: in its own frame, scaled by `inverse_scale`, a line along y from 0 to `length`
/// with radius c0 + c1 h + c2 h^2, h from 0 to 1 along it. Length 0 and radius 1 make an ellipsoid.
struct FieldPart {
    std::array<float, 3> origin{};
    std::array<float, 9> axes{};           ///< rows: x, y, z axis in world coordinates, each times its inverse scale
    std::array<float, 3> inverse_scale{};  ///< 1 over the scale along x, y, z
    float length = 0;                      ///< in scaled units
    float per_length = 0;                  ///< 1 / length, or 0
    float c0 = 1, c1 = 0, c2 = 0;
    float blend = 0.01F;  ///< width of the smooth joint with everything before it, metres
};

/// A part as the light sees it: a capsule.
struct Caster {
    std::array<float, 3> a{}, along{};  ///< one end, and from there to the other
    float radius = 0;
    float inverse_length2 = 0;  ///< 1 over the squared length of `along`
};

constexpr int tile_size = 8;
constexpr int tile_pixels = tile_size * tile_size;

struct TileJob {
    std::array<float, 3> eye{};
    std::array<float, 3> corner{}, right{}, down{};  ///< ray of the first pixel's centre (not unit), step per pixel
    float pixel = 0.001F;                            ///< size of a pixel one metre away
    float nearest = 0, furthest = 10;
    const FieldPart* parts = nullptr;
    const std::uint16_t* tight = nullptr;  ///< parts that can be hit in this tile
    int tight_count = 0;
    const std::uint16_t* wide = nullptr;  ///< parts that can darken what is hit here
    int wide_count = 0;
    const Caster* casters = nullptr;
    int caster_count = 0;
    std::array<float, 3> light{};  ///< towards the light, unit
};

/// Row by row; `cover` 0 means nothing was hit.
struct TileHits {
    alignas(32) std::array<float, tile_pixels> distance, cover, nx, ny, nz, open, lit;
    std::array<std::int32_t, tile_pixels> part;
};

struct FieldCode {
    void (*march_tile)(const TileJob&, TileHits&);
    /// Share of the light that reaches each point, 0..1. Arrays hold `count` values, a multiple of eight.
    void (*light_at)(const float* x, const float* y, const float* z, float* lit, int count, const Caster* casters,
                     int caster_count, const std::array<float, 3>& light);
    const char* name;
};
[[nodiscard]] const FieldCode& portable_field();
/// Null where it was not built; must not be called on a machine without AVX2.
[[nodiscard]] const FieldCode* avx2_field();
/// The fastest that this machine can run.
[[nodiscard]] const FieldCode& fastest_field();

}  // namespace quarterturn::sample
