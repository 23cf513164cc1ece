#include "body/posture_pictures.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

namespace quarterturn::body {
namespace {

/// Where the picture has slopes that a movement would show at: brighter than sensor noise makes them.
cv::Mat slopes_of(const cv::Mat& grey) {
    cv::Mat x, y, strength;
    cv::Sobel(grey, x, CV_32F, 1, 0, 3, 1.0 / 8);
    cv::Sobel(grey, y, CV_32F, 0, 1, 3, 1.0 / 8);
    cv::magnitude(x, y, strength);
    return strength;
}

float median_of(std::vector<float> values) {
    if (values.empty()) return 0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// Median flow where the picture has slopes.
cv::Vec2f common_flow(const cv::Mat& flow, const cv::Mat& slopes, float least_slope) {
    std::vector<float> x, y;
    for (int row = 0; row < flow.rows; ++row)
        for (int column = 0; column < flow.cols; ++column) {
            if (slopes.at<float>(row, column) < least_slope) continue;
            x.push_back(flow.at<cv::Vec2f>(row, column)[0]);
            y.push_back(flow.at<cv::Vec2f>(row, column)[1]);
        }
    return {median_of(std::move(x)), median_of(std::move(y))};
}

/// Whether the pictures differ at all over an area as large as a part of the body; saves most searches.
bool differ(const cv::Mat& a, const cv::Mat& b, std::ptrdiff_t part) {
    constexpr double noise_levels = 5;
    cv::Mat difference;
    cv::absdiff(a, b, difference);
    cv::blur(difference, difference, cv::Size(3, 3));
    return cv::countNonZero(difference > noise_levels) >= part;
}

cv::Mat taken_back(const cv::Mat& picture, const cv::Mat& flow) {
    cv::Mat where(flow.size(), CV_32FC2);
    for (int y = 0; y < flow.rows; ++y)
        for (int x = 0; x < flow.cols; ++x)
            where.at<cv::Vec2f>(y, x) =
                flow.at<cv::Vec2f>(y, x) + cv::Vec2f(static_cast<float>(x), static_cast<float>(y));
    cv::Mat out;
    cv::remap(picture, out, where, cv::noArray(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    return out;
}

}  // namespace

void PosturePictures::add(double t_s, const cv::Mat& grey) {
    if (!pictures_.empty() && grey.size() != pictures_.front().size()) return;
    times_.push_back(t_s);
    pictures_.push_back(grey.clone());
}

cv::Mat PosturePictures::mean_in(double from_s, double to_s, const cv::Rect& area) const {
    auto first = std::lower_bound(times_.begin(), times_.end(), from_s);
    auto last = std::upper_bound(times_.begin(), times_.end(), to_s);
    if (first == last) {  // none within: the nearest one
        const double middle = (from_s + to_s) / 2;
        if (first == times_.end() || (first != times_.begin() && middle - *(first - 1) < *first - middle)) --first;
        last = first + 1;
    }
    cv::Mat sum = cv::Mat::zeros(area.size(), CV_32F);
    for (auto at = first; at != last; ++at)
        cv::accumulate(pictures_[static_cast<std::size_t>(at - times_.begin())](area), sum);
    cv::Mat mean;
    sum.convertTo(mean, CV_8U, 1.0 / static_cast<double>(last - first));
    return mean;
}

std::optional<double> PosturePictures::moved_px(double before_from_s, double before_to_s, double after_from_s,
                                                double after_to_s, const AthletePlace& place) const {
    if (times_.empty()) return std::nullopt;
    constexpr int margin = 2 * cell_px;
    const cv::Rect whole(0, 0, pictures_.front().cols, pictures_.front().rows);
    const cv::Rect area =
        whole & cv::Rect(place.box.left * cell_px - margin, place.box.top * cell_px - margin,
                         place.box.width() * cell_px + 2 * margin, place.box.height() * cell_px + 2 * margin);
    if (area.width < 24 || area.height < 24) return std::nullopt;
    const cv::Mat before = mean_in(before_from_s, before_to_s, area);
    const cv::Mat after = mean_in(after_from_s, after_to_s, area);

    // A part of the body, such as a hand's breadth of an edge: about 3 % of the height, squared.
    const auto part = static_cast<std::ptrdiff_t>(std::max(12.0, std::pow(0.03 * place.height_px, 2)));
    if (!differ(before, after, part)) return 0.0;

    const auto search = cv::DISOpticalFlow::create(cv::DISOpticalFlow::PRESET_ULTRAFAST);
    search->setFinestScale(1);
    search->setPatchStride(4);
    cv::Mat flow;
    search->calc(before, after, flow);

    constexpr float least_slope = 4;
    constexpr double changed_levels = 14;
    const cv::Mat slopes = slopes_of(before);
    const cv::Vec2f common = common_flow(flow, slopes, least_slope);
    cv::Mat difference, lost;
    cv::absdiff(before, taken_back(after, flow), difference);
    cv::blur(difference, lost, cv::Size(5, 5));
    cv::Mat moved(flow.size(), CV_32F, cv::Scalar(0));
    for (int y = 0; y < flow.rows; ++y)
        for (int x = 0; x < flow.cols; ++x) {
            const cv::Vec2f v = flow.at<cv::Vec2f>(y, x) - common;
            if (lost.at<std::uint8_t>(y, x) > changed_levels)
                moved.at<float>(y, x) = static_cast<float>(not_found_px);
            else if (slopes.at<float>(y, x) >= least_slope)
                moved.at<float>(y, x) = std::hypot(v[0], v[1]);
        }
    std::vector<float> values(moved.begin<float>(), moved.end<float>());
    const auto rank = values.begin() + std::min(part, static_cast<std::ptrdiff_t>(values.size()) - 1);
    std::nth_element(values.begin(), rank, values.end(), std::greater<>());
    return static_cast<double>(*rank);
}

}  // namespace quarterturn::body
