#pragma once
/// What twist and sway need of the pictures, kept while they are decoded: a small grey picture of the trunk and the
/// outline beside it, only while the body is still enough for the region to be held.
///
/// 11 KB for each kept picture of a 432 x 768 film, 16 KB at 1080 x 1920, at most about twice as much for other sizes:
/// some 14 MB for a minute, 130 MB for ten (measured). Keeping one costs about 0.5 ms.
#include <array>
#include <cstdint>
#include <memory>
#include <opencv2/core.hpp>
#include <span>
#include <vector>

#include "body/clip_landmarks.hpp"
#include "body/packed_grey.hpp"
#include "body/torso_edges.hpp"

namespace quarterturn::body {

/// Pixels of the picture turned about its middle until the room is upright (TorsoRecord's tilt), before any mirroring
/// is taken away.
struct TorsoPicture {
    std::int64_t pts = 0;
    Point left_shoulder, right_shoulder, left_hip, right_hip;  ///< the athlete's own sides
    PackedGrey grey;                                           ///< the trunk without most of the arms
    Point origin;                                              ///< outer corner of its first pixel
    double step = 1;                                           ///< picture pixels per pixel of `grey`
    TorsoEdges edges;

    [[nodiscard]] Point shoulders() const { return middle(left_shoulder, right_shoulder); }
    [[nodiscard]] Point hips() const { return middle(left_hip, right_hip); }

  private:
    static Point middle(Point a, Point b) { return {(a.x + b.x) / 2, (a.y + b.y) / 2}; }
};

/// Sees one part of a clip; wants the masks (TrackerSettings::masks).
class TorsoRecord : public PartObserver {
  public:
    /// @param tilt_deg  clockwise turn that makes the room upright, as far as a person set it
    explicit TorsoRecord(double tilt_deg = 0) : tilt_deg_(tilt_deg) {}
    void see(const Observation& observation) override;
    [[nodiscard]] std::vector<TorsoPicture>& pictures() { return pictures_; }

  private:
    double tilt_deg_;
    std::vector<TorsoPicture> pictures_;
    std::optional<Region> region_;  ///< for which the step was chosen
    double step_ = 1;
};

/// All pictures that TorsoRecords given to LandmarkSettings::observe kept, by time, each once; takes them out of the
/// parts.
[[nodiscard]] std::vector<TorsoPicture> take_torso_pictures(std::span<ObservedPart> parts);

}  // namespace quarterturn::body
