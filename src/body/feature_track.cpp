#include "body/feature_track.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

namespace quarterturn::body {
namespace {

constexpr int most_features = 120;
constexpr double least_quality = 0.01, least_distance_px = 4;
constexpr int corner_block = 5;
const cv::Size window{17, 17};
constexpr int levels = 2;
constexpr float comes_back_px = 0.7F;

cv::TermCriteria precise() {
    return {cv::TermCriteria::COUNT | cv::TermCriteria::EPS, 30, 0.005};
}

/// `grey` as large as `size`: windows placed at different times differ in size, the search wants one.
cv::Mat fitted(const cv::Mat& grey, cv::Size size) {
    if (grey.size() == size) return grey;
    cv::Mat out;
    cv::copyMakeBorder(grey, out, 0, std::max(0, size.height - grey.rows), 0, std::max(0, size.width - grey.cols),
                       cv::BORDER_REPLICATE);
    return out(cv::Rect({0, 0}, size));
}

}  // namespace

FeatureTrack::FeatureTrack(const TorsoPicture& reference, const cv::Mat& where) : reference_(reference) {
    const cv::Mat grey = reference.grey.unpacked();
    if (cv::countNonZero(where) > 0)
        cv::goodFeaturesToTrack(grey, corners_, most_features, least_quality, least_distance_px, where, corner_block);
    cv::buildOpticalFlowPyramid(grey, pyramid_, window, levels);
    start_again();
}

void FeatureTrack::start_again() {
    last_.assign(corners_.size(), {0, 0});
}

std::vector<FeatureShift> FeatureTrack::find_in(const TorsoPicture& picture) {
    if (corners_.empty() || picture.step != reference_.step) return {};
    const auto step = static_cast<float>(picture.step);
    // The windows of both pictures may lie in different places.
    const cv::Point2f offset(static_cast<float>(reference_.origin.x - picture.origin.x),
                             static_cast<float>(reference_.origin.y - picture.origin.y));
    std::vector<cv::Mat> pyramid;
    cv::buildOpticalFlowPyramid(fitted(picture.grey.unpacked(), reference_.grey.size()), pyramid, window, levels);
    std::vector<cv::Point2f> found(corners_.size()), back = corners_;
    for (std::size_t i = 0; i < corners_.size(); ++i) found[i] = corners_[i] + (last_[i] + offset) / step;
    std::vector<unsigned char> forth_status, back_status;
    const int start = cv::OPTFLOW_USE_INITIAL_FLOW;
    cv::calcOpticalFlowPyrLK(pyramid_, pyramid, corners_, found, forth_status, cv::noArray(), window, levels, precise(),
                             start);
    cv::calcOpticalFlowPyrLK(pyramid, pyramid_, found, back, back_status, cv::noArray(), window, levels, precise(),
                             start);
    std::vector<FeatureShift> out;
    for (std::size_t i = 0; i < corners_.size(); ++i) {
        const cv::Point2f astray = back[i] - corners_[i];
        if (forth_status[i] == 0 || back_status[i] == 0 || std::hypot(astray.x, astray.y) >= comes_back_px) continue;
        const cv::Point2f moved = (found[i] - corners_[i]) * step - offset;
        last_[i] = moved;
        out.push_back({{reference_.origin.x + (static_cast<double>(corners_[i].x) + 0.5) * reference_.step,
                        reference_.origin.y + (static_cast<double>(corners_[i].y) + 0.5) * reference_.step},
                       static_cast<double>(moved.x),
                       static_cast<double>(moved.y)});
    }
    return out;
}

}  // namespace quarterturn::body
