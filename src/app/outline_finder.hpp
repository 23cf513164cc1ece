#pragma once
/// The outline of the body in one picture, from the landmark network's mask.
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "app/state.hpp"
#include "body/region.hpp"

namespace quarterturn::app {

/// Where the mask changes its sign (0 is the outline), as line pieces: marching squares with the crossing interpolated
/// along each cell's edge. Parts of the picture as shown, 0..1.
/// @param mask  side x side logits over the region, row by row, value i at the middle of cell i
/// @param width, height  of the picture the region is in, pixels
[[nodiscard]] std::vector<std::pair<Spot, Spot>> mask_outline(std::span<const float> mask, int side,
                                                              const body::Region& region, double width, double height);

/// Not thread-safe. Keeps the networks and the film it saw last.
class OutlineFinder {
  public:
    OutlineFinder();
    ~OutlineFinder();
    OutlineFinder(const OutlineFinder&) = delete;
    OutlineFinder& operator=(const OutlineFinder&) = delete;

    /// @param clip  its file, index and turning are used; its joints say which of several people is meant
    /// @error missing_part: no model; not_found: nobody in the picture; as ExactReader
    [[nodiscard]] Result<Outline> find(const OpenClip& clip, std::int64_t pts);

  private:
    struct Networks;
    struct Film;
    std::unique_ptr<Networks> networks_;
    std::unique_ptr<Film> film_;
};

}  // namespace quarterturn::app
