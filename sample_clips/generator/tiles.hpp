#pragma once
/// Which parts of the field matter where in the picture, so that each tile searches only a few.
#include <vector>

#include "camera.hpp"
#include "flesh.hpp"

namespace quarterturn::sample {

struct TileParts {
    std::vector<std::uint16_t> tight;    ///< can be hit here
    std::vector<std::uint16_t> wide;     ///< can darken what is hit here
    float nearest = 1e9F, furthest = 0;  ///< metres along the view
};

class TileMap {
  public:
    void sort(const Camera& camera, const Flesh& flesh);
    [[nodiscard]] int across() const { return across_; }
    [[nodiscard]] int down() const { return down_; }
    [[nodiscard]] const TileParts& at(int x, int y) const {
        return tiles_[static_cast<std::size_t>(y) * static_cast<std::size_t>(across_) + static_cast<std::size_t>(x)];
    }

  private:
    struct Shape {
        Camera::Seen a, b;              ///< ends of the part's line in the picture
        double radius = 0, margin = 0;  ///< pixels: what it can fill, and how much further it can darken
        float nearest = 0, furthest = 0;
    };
    void mark(const Shape& shape, std::uint16_t part);

    int across_ = 0, down_ = 0;
    std::vector<TileParts> tiles_;
};

}  // namespace quarterturn::sample
