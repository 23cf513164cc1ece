#pragma once
/// From a film to its landmark series.
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <stop_token>
#include <vector>

#include "base/result.hpp"
#include "body/landmark_series.hpp"
#include "body/model_files.hpp"
#include "body/tracker.hpp"
#include "media/frame_index.hpp"
#include "media/picture.hpp"

namespace quarterturn::body {

/// One looked-at picture while it is decoded, for measures that need its pixels too.
struct Observation {
    const media::Picture& picture;
    const PictureView& view;
    const LandmarkFrame& frame;   ///< before the parts of the clip are joined
    std::span<const float> mask;  ///< mask_side x mask_side logits over frame.region; empty unless asked for and held
};

/// Sees the pictures of one part of the clip in order. Parts are worked on by several threads, each observer by one.
class PartObserver {
  public:
    PartObserver() = default;
    PartObserver(const PartObserver&) = delete;
    PartObserver& operator=(const PartObserver&) = delete;
    virtual ~PartObserver() = default;
    /// Before the networks read the picture, while it is still near the processor: for what goes over all of it.
    virtual void skim(const PictureView&) {}
    virtual void see(const Observation& observation) = 0;
};

struct LandmarkSettings {
    std::optional<int> rotation_deg;  ///< how the film is to be turned, instead of what the file says
    double rate_hz = 15;  ///< pictures looked at per second; those between are decoded only where others need them
    int jobs = 0;         ///< threads; 0: one per core. The result does not depend on it
    TrackerSettings tracker;
    std::optional<AthleteClick> athlete;  ///< where a person showed her; otherwise chosen from the whole clip
    /// Called now and then with the share done, 0..1, never by two threads at once and never going back.
    std::function<void(double share)> progress;
    /// Makes the observer of one part; called again for a part that has to be read a second time.
    std::function<std::unique_ptr<PartObserver>(std::size_t part)> observe;
};

/// A part's observer and the stretch of the clip it speaks for; it has also seen the warm-up pictures before it.
struct ObservedPart {
    std::int64_t from_pts = 0;
    std::int64_t to_pts = 0;  ///< last looked-at picture, included
    std::unique_ptr<PartObserver> observer;
};

struct ClipLandmarks {
    LandmarkSeries series;
    std::vector<ObservedPart> parts;  ///< in order of time; empty unless observed
    std::vector<Sighting> sightings;  ///< whom the detector saw, by time: for choosing whom to follow
};

/// @param index made by build_index from the same file
/// @return a frame for every looked-at picture that could be decoded; pictures with nobody in them have no body. A film
///         that ends early gives what there is, with a warning
/// @error as ExactReader::open and the networks; bad_input: no picture can be decoded; cancelled
[[nodiscard]] Result<ClipLandmarks> clip_landmarks(const std::filesystem::path& path, const media::FrameIndex& index,
                                                   const Models& models, const LandmarkSettings& settings,
                                                   std::stop_token stop = {});

/// The networks behind BodyReader. Not thread-safe; models are shared.
/// @error as PersonDetector::create and LandmarkNetwork::create
[[nodiscard]] Result<std::unique_ptr<BodyReader>> make_body_reader(const Models& models);

}  // namespace quarterturn::body
