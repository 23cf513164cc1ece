#pragma once
/// Corners of one picture found again in others.
#include <opencv2/core.hpp>
#include <vector>

#include "body/torso_record.hpp"

namespace quarterturn::body {

/// Pixels of the upright picture.
struct FeatureShift {
    Point from;  ///< in the reference picture
    double dx = 0, dy = 0;
};

class FeatureTrack {
  public:
    /// @param reference must outlive the track
    /// @param where     non-zero where corners may be taken; as large as the reference's grey picture
    FeatureTrack(const TorsoPicture& reference, const cv::Mat& where);

    [[nodiscard]] int features() const { return static_cast<int>(corners_.size()); }
    /// Those found again, searched from where they were last found; each is also sought back from there and left out
    /// when it does not come out where it began.
    [[nodiscard]] std::vector<FeatureShift> find_in(const TorsoPicture& picture);
    /// The next search begins at the reference's own places.
    void start_again();

  private:
    const TorsoPicture& reference_;
    std::vector<cv::Mat> pyramid_;
    std::vector<cv::Point2f> corners_;  ///< in the grey picture
    std::vector<cv::Point2f> last_;     ///< displacement when last found, picture pixels
};

}  // namespace quarterturn::body
