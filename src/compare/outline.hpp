#pragma once
/// The outline of a body in one picture, from the network's mask: for showing the earlier silhouette on the later
/// picture.
#include <memory>
#include <vector>

#include "base/result.hpp"
#include "body/clip_landmarks.hpp"
#include "body/model_files.hpp"
#include "compare/laid_over.hpp"
#include "media/image.hpp"

namespace quarterturn::compare {

/// Closed lines, pixels of the picture as given.
using Outline = std::vector<std::vector<Point>>;

/// Not thread-safe.
class OutlineFinder {
  public:
    /// @error as body::make_body_reader
    [[nodiscard]] static Result<OutlineFinder> create(const body::Models& models);

    /// @param picture  upright, RGB
    /// @param pelvis   of the athlete, pixels: whom to outline where several people are seen
    /// @return empty: nobody was found
    /// @error as the networks
    [[nodiscard]] Result<Outline> find(const media::Image& picture, Point pelvis) const;

  private:
    explicit OutlineFinder(std::unique_ptr<body::BodyReader> reader) : reader_(std::move(reader)) {}
    std::unique_ptr<body::BodyReader> reader_;
};

[[nodiscard]] Outline moved(Outline outline, const Affine& map);

/// Draws the lines, bright with a dark edge, so that they show on skin and on any wall.
void draw_outline(const Outline& outline, media::Image& rgb);

}  // namespace quarterturn::compare
