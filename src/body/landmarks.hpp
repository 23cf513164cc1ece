#pragma once
/// The landmarks of one person in one picture.
#include <memory>
#include <optional>
#include <span>

#include "base/result.hpp"
#include "body/landmark_series.hpp"
#include "body/network.hpp"
#include "body/picture_view.hpp"

namespace quarterturn::body {

inline constexpr int mask_side = 256;

struct Reading {
    Body body;
    float confidence = 0;        ///< 0..1: that the region holds a person
    std::optional<Region> next;  ///< the region as these landmarks would place it
    /// mask_side x mask_side over the region, row by row: the logit of "this is the person" (0 is the outline). Valid
    /// until the next call; empty unless asked for.
    std::span<const float> mask;
};

/// Not thread-safe; the model may be shared.
class LandmarkNetwork {
  public:
    /// @error bad_input: the model is not a body-landmark network; as Network::build
    [[nodiscard]] static Result<LandmarkNetwork> create(std::shared_ptr<const NetworkModel> model);

    /// Costs about half as much again with the mask.
    [[nodiscard]] Result<Reading> read(const PictureView& picture, const Region& region, bool with_mask = false);

  private:
    LandmarkNetwork(std::shared_ptr<const NetworkModel> model, std::vector<int> outputs, int mask_output,
                    Network network);
    [[nodiscard]] Result<Network*> network_for(bool with_mask);

    std::shared_ptr<const NetworkModel> model_;
    std::vector<int> outputs_;
    int mask_output_;
    Network without_mask_;
    std::optional<Network> with_mask_;  ///< built when first asked for
};

}  // namespace quarterturn::body
