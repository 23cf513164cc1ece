#pragma once
/// How the phone itself moved while it filmed: told by everything in the picture but the athlete.
///
/// Each picture, much reduced, is laid over a reference picture by turning and shifting it until those small areas of
/// the room that have some structure fit best (direct alignment by least squares: Lucas and Kanade 1981; Baker and
/// Matthews 2004), what does not fit weighted down (Tukey's weights: Beaton and Tukey 1974). Differences in exposure
/// are fitted along. About 0.3 ms a picture.
#include <cstdint>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

namespace quarterturn::body {

/// Turned by `turn_rad` about the picture's middle (clockwise as seen), then shifted; pixels, x right, y down.
struct Movement {
    double x = 0, y = 0, turn_rad = 0;
    /// This movement after `first`.
    [[nodiscard]] Movement after(const Movement& first) const;
    [[nodiscard]] Movement inverse() const;
};

/// Grey pictures of one film in order of time, all of one size. Not thread-safe.
class ShakeMeter {
  public:
    /// @param grey     8 bit, about 150 to 250 pixels long
    /// @param athlete  where the room cannot be seen; empty: nobody is there
    /// @return how the picture's content has moved since the first picture, in pixels of `grey`; absent where the room
    ///         shows too little to tell, and when the picture has jumped so far that it is not found again
    [[nodiscard]] std::optional<Movement> measure(const cv::Mat& grey, const cv::Rect& athlete);

    /// A pixel of the reference that has structure around it.
    struct Spot {
        float x = 0, y = 0;  ///< from the picture's middle
        float grey = 0, dx = 0, dy = 0;
        float share = 1;  ///< of what a faint spot counts
    };

  private:
    void take_reference(const std::vector<cv::Mat>& pyramid, const cv::Rect& athlete);

    std::vector<std::vector<Spot>> spots_;  ///< by level of the pyramid, finest first
    int covered_ = 0;                       ///< pixels the athlete covered in the reference
    Movement reference_;                    ///< of the reference against the first picture
    Movement last_;                         ///< of the last picture against the reference
    double usual_misfit_ = 0;               ///< of the last picture that was searched for from coarse to fine
    int lost_ = 0;                          ///< pictures in a row in which the reference was not found again
    cv::Size size_;
};

}  // namespace quarterturn::body
