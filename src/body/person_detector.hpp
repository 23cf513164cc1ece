#pragma once
/// Finds the people in a picture: where each one's middle is and how far the body reaches.
#include <memory>
#include <vector>

#include "base/result.hpp"
#include "body/network.hpp"
#include "body/picture_view.hpp"
#include "body/region.hpp"

namespace quarterturn::body {

struct Person {
    Region region;     ///< around the whole body
    double score = 0;  ///< 0..1, at least 0.5
};

/// Not thread-safe; the model may be shared.
class PersonDetector {
  public:
    /// @error bad_input: the model is not the person detector; as Network::build
    [[nodiscard]] static Result<PersonDetector> create(std::shared_ptr<const NetworkModel> model);

    /// Everybody found, surest first. Bodies smaller than about a tenth of the picture are missed.
    [[nodiscard]] Result<std::vector<Person>> find(const PictureView& picture);

  private:
    explicit PersonDetector(Network network);
    Network network_;
    std::vector<Point> anchors_;  ///< cell centres, 0..1
};

}  // namespace quarterturn::body
