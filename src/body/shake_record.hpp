#pragma once
/// How the phone moved, measured while the film is read for landmarks.
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "body/camera_shake.hpp"
#include "body/clip_landmarks.hpp"
#include "body/course.hpp"
#include "body/torso_record.hpp"

namespace quarterturn::body {

/// Sees one part of a clip.
class ShakeRecord {
  public:
    struct At {
        std::int64_t pts = 0;
        std::optional<Movement> movement;  ///< since the part's first picture; pixels of the upright picture
    };
    void skim(const PictureView& view);
    void see(const Observation& observation);  ///< the picture skimmed before
    [[nodiscard]] const std::vector<At>& pictures() const { return pictures_; }
    [[nodiscard]] double longer_side() const { return longer_side_; }  ///< of the picture, pixels

  private:
    double longer_side_ = 0;
    cv::Mat small_;
    ShakeMeter meter_;
    std::vector<At> pictures_;
};

/// What is kept of one part: the trunk for twist and sway, and how the phone moved.
class PartRecord final : public TorsoRecord {
  public:
    using TorsoRecord::TorsoRecord;
    void skim(const PictureView& view) override { shake_.skim(view); }
    void see(const Observation& observation) override {
        TorsoRecord::see(observation);
        shake_.see(observation);
    }
    [[nodiscard]] const ShakeRecord& shake() const { return shake_; }

  private:
    ShakeRecord shake_;
};

/// When a picture stands in true seconds from the clip's first.
struct ClipClock {
    std::int64_t first_pts = 0;
    TimeBase base;
    double time_scale = 1;
};

/// The phone's movement over the whole clip, from parts seen by PartRecord, joined where they overlap. Empty when the
/// phone stood still as far as can be told, or the room shows too little.
[[nodiscard]] std::vector<Shake> shake_of(std::span<const ObservedPart> parts, const ClipClock& clock);

}  // namespace quarterturn::body
