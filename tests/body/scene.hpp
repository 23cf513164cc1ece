#pragma once
/// People moving about without pictures: stands in for the networks in tests of following.
#include <functional>
#include <vector>

#include "body/tracker.hpp"

namespace quarterturn::body {

inline constexpr int scene_side = 1000;

/// Everybody in the picture at a time, in pixels of a square picture of scene_side; in front first: who is nearer hides
/// who is behind.
using Scene = std::function<std::vector<Person>(double t_s)>;

/// Someone standing at x with the given reach of the region.
[[nodiscard]] Person person_at(double x, double side, double score = 0.9);

/// Sees what the scene holds. A region is read as whoever in front is mostly inside it.
class SceneReader final : public BodyReader {
  public:
    explicit SceneReader(Scene scene) : scene_(std::move(scene)) {}
    Result<std::vector<Person>> find(const PictureView& picture) override;
    Result<Reading> read(const PictureView& picture, const Region& region, bool with_mask) override;

    double now_s = 0;
    int finds = 0;
    int reads = 0;
    int masks = 0;
    bool reads_as_given = false;  ///< a body is read with the turn of the square it is read in
    bool upright_finds = false;  ///< the detector sees everybody upright, however the scene says the network reads them

  private:
    Scene scene_;
};

/// Follows the scene at 15 pictures per second from `from_s` to `to_s`.
struct SceneStep {
    double t_s = 0;
    Tracked tracked;
};
[[nodiscard]] std::vector<SceneStep> follow(SceneReader& reader, double from_s, double to_s,
                                            TrackerSettings settings = {},
                                            std::optional<AthletePath> athlete = std::nullopt);

}  // namespace quarterturn::body
