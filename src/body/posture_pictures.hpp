#pragma once
/// A few pictures of the clip, kept to compare the posture before a movement with the one after it.
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "body/athlete_place.hpp"

namespace quarterturn::body {

class PosturePictures {
  public:
    /// Reduced grey pictures (8 bit), times increasing, all of one size.
    void add(double t_s, const cv::Mat& grey);
    [[nodiscard]] std::size_t size() const { return times_.size(); }

    /// How far the parts of the body moved against each other between two stretches of time, in pixels: the movement
    /// found from one picture to the other (dense inverse search, Kroeger and others 2016), with what is common to the
    /// whole body (a step aside, sway, camera shake) taken away; of its largest values, one that a whole part of the
    /// body reaches. A part that is not found again counts as moved by `not_found_px`. Absent without pictures.
    [[nodiscard]] std::optional<double> moved_px(double before_from_s, double before_to_s, double after_from_s,
                                                 double after_to_s, const AthletePlace& place) const;

    static constexpr double not_found_px = 100;

  private:
    [[nodiscard]] cv::Mat mean_in(double from_s, double to_s, const cv::Rect& area) const;

    std::vector<double> times_;
    std::vector<cv::Mat> pictures_;
};

}  // namespace quarterturn::body
