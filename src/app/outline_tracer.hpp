#pragma once
/// The outline of the body in one picture, as the network's mask says it: for stills, a fifth of a second each.
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "body/clip_landmarks.hpp"
#include "body/region.hpp"
#include "media/exact_reader.hpp"
#include "share/compare_films.hpp"

namespace quarterturn::app {

/// Where a mask changes from "not the person" to "the person" (logit 0, interpolated between the middles of its
/// pixels), as pieces of line in the picture of `region`. Islands of fewer than 40 mask pixels are left out.
/// @param mask  body::mask_side x body::mask_side logits
[[nodiscard]] std::vector<std::pair<body::Point, body::Point>> mask_outline(std::span<const float> mask,
                                                                            const body::Region& region);

/// Keeps the network and the last film open. For one thread at a time.
class OutlineTracer {
  public:
    /// Pixels of the picture as it is shown, mirrored back where the film is mirrored. Empty without the network, or
    /// where nobody is seen.
    [[nodiscard]] std::vector<std::pair<body::Point, body::Point>> trace(const share::ComparedFilm& film,
                                                                         std::int64_t pts);

  private:
    [[nodiscard]] bool ready(const std::filesystem::path& film);

    bool tried_ = false;
    std::unique_ptr<body::BodyReader> body_;
    std::filesystem::path film_;
    std::optional<media::ExactReader> reader_;
};

}  // namespace quarterturn::app
