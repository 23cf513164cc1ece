#pragma once
/// Where the body is in every looked-at picture of a clip.
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/media_time.hpp"
#include "base/result.hpp"
#include "body/region.hpp"

namespace quarterturn::body {

inline constexpr std::size_t landmark_count = 33;

/// The points of the body-landmark network by name; left and right are the athlete's own. Values are positions in an
/// array of landmarks.
enum class Joint : std::uint8_t {
    nose,
    left_eye_inner,
    left_eye,
    left_eye_outer,
    right_eye_inner,
    right_eye,
    right_eye_outer,
    left_ear,
    right_ear,
    mouth_left,
    mouth_right,
    left_shoulder,
    right_shoulder,
    left_elbow,
    right_elbow,
    left_wrist,
    right_wrist,
    left_little_finger,
    right_little_finger,
    left_index_finger,
    right_index_finger,
    left_thumb,
    right_thumb,
    left_hip,
    right_hip,
    left_knee,
    right_knee,
    left_ankle,
    right_ankle,
    left_heel,
    right_heel,
    left_foot_tip,
    right_foot_tip
};

/// Nose, shoulders, elbows, wrists, hips, knees, ankles: what accuracy is stated for.
inline constexpr std::array<Joint, 13> main_joints{
    Joint::nose,       Joint::left_shoulder, Joint::right_shoulder, Joint::left_elbow, Joint::right_elbow,
    Joint::left_wrist, Joint::right_wrist,   Joint::left_hip,       Joint::right_hip,  Joint::left_knee,
    Joint::right_knee, Joint::left_ankle,    Joint::right_ankle};

struct Landmark {
    float x = 0;  ///< pixels of the upright full picture, origin top left; may lie outside the picture
    float y = 0;
    float visibility = 0;  ///< 0..1: in the picture and not hidden. Hidden points are guesses
    float presence = 0;    ///< 0..1: inside the region looked at
    bool operator==(const Landmark&) const = default;
};

/// The network's own idea of depth: metres, origin between the hips, x right and y down in the picture, z away from the
/// camera. Good enough to tell front from back; it does not show twist.
struct WorldPoint {
    float x = 0;
    float y = 0;
    float z = 0;
    bool operator==(const WorldPoint&) const = default;
};

struct Body {
    std::array<Landmark, landmark_count> landmarks;
    std::array<WorldPoint, landmark_count> world;

    [[nodiscard]] const Landmark& operator[](Joint joint) const { return landmarks[static_cast<std::size_t>(joint)]; }
    bool operator==(const Body&) const = default;
};

struct LandmarkFrame {
    std::int64_t pts = 0;
    double t_s = 0;                ///< seconds from the clip's first picture
    std::optional<Body> body;      ///< absent: nobody was seen
    std::optional<Region> region;  ///< what the network looked at
    float confidence = 0;          ///< 0..1: that the region holds a person; 0 when nobody was looked at
    bool held = false;  ///< the region was the same as in the picture before: joints of such neighbours compare exactly
    bool company = false;  ///< somebody else passes before or behind: joints may be partly his (see mark_company)
    bool operator==(const LandmarkFrame&) const = default;
};

struct LandmarkSeries {
    std::string model;    ///< "lite", "full", "heavy"
    std::string version;  ///< landmark_version() of the program that made it; another version is computed again
    double rate_hz = 0;   ///< pictures looked at per second, at most
    TimeBase time_base;
    int width = 0;  ///< upright picture, pixels
    int height = 0;
    std::vector<LandmarkFrame> frames;  ///< strictly increasing pts
    std::vector<std::string> warnings;  ///< plain sentences
    bool operator==(const LandmarkSeries&) const = default;
};

/// What `save_series` keeps: positions to 1/64 pixel, shares to 1/255, metres to 1/1000. Applied to every series that
/// is made, so that one read back from the cache is the same.
void round_for_keeping(Body& body);

/// Kept between runs: a small binary document, versioned, checked on reading. Its name is up to the caller; it holds
/// for one clip (fingerprint), model, version and rate.
[[nodiscard]] std::string save_series(const LandmarkSeries& series);
/// @error bad_input: not a series or damaged; newer_version
[[nodiscard]] Result<LandmarkSeries> load_series(std::string_view bytes);

}  // namespace quarterturn::body
