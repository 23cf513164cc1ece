#pragma once
/// Brings the earlier picture to the scale, place and upright of the later one.
#include <optional>
#include <string>

#include "compare/pairing.hpp"
#include "compare/similarity.hpp"

namespace quarterturn::compare {

/// Where the body is around a moment: the median of every landmark over a quarter of a second to either side.
struct StillBody {
    std::array<body::CoursePoint, body::landmark_count> points;
    double height_px = 0;

    [[nodiscard]] const body::CoursePoint& operator[](body::Joint joint) const {
        return points[static_cast<std::size_t>(joint)];
    }
};
/// @return nullopt: no landmarks, or nobody was seen then
[[nodiscard]] std::optional<StillBody> still_body(const Take& take, double at_s);
/// As the picture mirrored about its middle shows it, left and right changed over.
[[nodiscard]] StillBody mirrored(StillBody body, double picture_width);

struct Alignment {
    /// Pixels of the earlier picture to pixels of the later one, both as shown (take.hpp).
    Similarity before_to_now;
    /// Root mean square distance of the stable landmarks (hips, shoulders, ankles) after it, % of body height.
    double residual_body_pct = 0;
    std::optional<body::Joint> left_out;  ///< the one that did not go with the others
    /// What a similarity cannot take away because the phone stood nearer or further off, for a part of the body 0.15
    /// body heights nearer to the phone and half a body height from the middle; % of body height. Distances are guessed
    /// from her size in the picture with a field of view of 44 degrees assumed on the picture's longer side.
    double perspective_body_pct = 0;
};

/// From hips, shoulders and ankles, weighted by how well they are seen. With `mirror` the earlier body is mirrored
/// before.
/// @return nullopt with fewer than three of them seen in both
[[nodiscard]] std::optional<Alignment> align(const StillBody& before, const StillBody& now, const Take& before_take,
                                             const Take& now_take, bool mirror);

/// The better of mirrored and not: mirrored where the sides of the pose say so, or where all main joints fit clearly
/// better (their median distance is less than 0.6 times as large and the unmirrored one above 3 % of body height).
[[nodiscard]] std::optional<Alignment> align_pair(const Pair& pair, const Takes& now, const Takes& before);

/// Median distance of the main joints after the alignment, % of body height.
[[nodiscard]] std::optional<double> joint_distance_pct(const StillBody& before, const StillBody& now,
                                                       const Alignment& alignment);

/// Whether one of the two films seems to be mirrored against the other.
enum class MirrorHint { none, now, before };
struct MirrorOffer {
    MirrorHint film = MirrorHint::none;
    std::string reason;  ///< one plain sentence; empty with `none`
};
/// From the direction of the turns where the analysis could tell, else from poses that fit mirrored only.
[[nodiscard]] MirrorOffer mirror_offer(const Takes& now, const Takes& before, const std::vector<Pair>& pairs);

}  // namespace quarterturn::compare
