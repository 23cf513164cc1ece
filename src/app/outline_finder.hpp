#pragma once
/// The outline of the body in one picture of a film, for pictures that stand still.
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>

#include "body/mask_outline.hpp"
#include "media/exact_reader.hpp"

namespace quarterturn::app {

struct OutlineWanted {
    std::filesystem::path film;
    std::int64_t pts = 0;
    std::optional<int> rotation_deg;  ///< instead of what the file says
    bool mirrored = false;            ///< `hips` and the outline are mirrored against the film
    std::optional<body::Point> hips;  ///< of the athlete, pixels of the picture as shown; absent: the surest person
    std::shared_ptr<const media::FrameIndex> index;  ///< of the film, where it is at hand
};

/// Keeps the networks and the film it saw last. Not thread-safe.
class OutlineFinder {
  public:
    /// @return pixels of the picture as shown; empty: nobody was found
    /// @error missing_part: no model; as ExactReader
    [[nodiscard]] Result<body::OutlinePieces> find(const OutlineWanted& wanted);

  private:
    [[nodiscard]] Status make_ready(const OutlineWanted& wanted);

    std::unique_ptr<body::BodyReader> body_;
    std::filesystem::path film_;
    std::optional<media::ExactReader> reader_;
};

}  // namespace quarterturn::app
