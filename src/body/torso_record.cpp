#include "body/torso_record.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace quarterturn::body {
namespace {

// Half the window against the distance from shoulders to hips: down to the hands at the hips, up to the chin.
constexpr double window_share = 0.85;
// The window is reduced (by halves) until it is no larger.
constexpr double most_pixels = 400;

Point point_of(const Landmark& landmark) {
    return {static_cast<double>(landmark.x), static_cast<double>(landmark.y)};
}

}  // namespace

void TorsoRecord::place_window(const Observation& observation, const TorsoPicture& seen) {
    const Point top = seen.shoulders(), bottom = seen.hips();
    const double length = std::hypot(bottom.x - top.x, bottom.y - top.y);
    const double width = std::abs(seen.left_shoulder.x - seen.right_shoulder.x);
    const double half = std::max(window_share * length, 0.75 * width);
    double step = 1;
    while (2 * half / step > most_pixels) step *= 2;
    pixels_ = 2 * std::max(8, static_cast<int>(std::lround(half / step)));
    // Window and picture pixels coincide, so that nothing is blurred by interpolating.
    const double side = pixels_ * step;
    const double left = std::round((top.x + bottom.x - side) / 2), upper = std::round((top.y + bottom.y - side) / 2);
    window_ = {{left + side / 2, upper + side / 2}, side, 0};
    region_ = observation.frame.region;
}

void TorsoRecord::see(const Observation& observation) {
    const LandmarkFrame& frame = observation.frame;
    if (!frame.body || !frame.held || !frame.region || observation.mask.empty()) return;
    TorsoPicture seen;
    seen.pts = frame.pts;
    seen.left_shoulder = point_of((*frame.body)[Joint::left_shoulder]);
    seen.right_shoulder = point_of((*frame.body)[Joint::right_shoulder]);
    seen.left_hip = point_of((*frame.body)[Joint::left_hip]);
    seen.right_hip = point_of((*frame.body)[Joint::right_hip]);
    if (seen.hips().y - seen.shoulders().y < 16) return;  // too small, or lying down
    if (region_ != frame.region) place_window(observation, seen);
    // At a step of 2 each sample falls between four pixels and so is their mean: reading all of them first would cost
    // more than the network at 1080 x 1920.
    rgb_.resize(3 * static_cast<std::size_t>(pixels_) * static_cast<std::size_t>(pixels_));
    observation.view.crop(window_, pixels_, Border::repeat, 0, 255, rgb_);
    cv::Mat grey;
    cv::cvtColor(cv::Mat(pixels_, pixels_, CV_32FC3, rgb_.data()), grey, cv::COLOR_RGB2GRAY);
    grey.convertTo(seen.grey, CV_8U);
    seen.origin = {window_.centre.x - window_.side / 2, window_.centre.y - window_.side / 2};
    seen.step = window_.side / pixels_;
    seen.edges = torso_edges(observation.mask, *frame.region, seen.shoulders(), seen.hips(), window_.side / 2);
    pictures_.push_back(std::move(seen));
}

std::unique_ptr<PartObserver> record_torso(std::size_t) {
    return std::make_unique<TorsoRecord>();
}

std::vector<TorsoPicture> take_torso_pictures(std::span<ObservedPart> parts) {
    std::vector<TorsoPicture> out;
    for (ObservedPart& part : parts) {
        auto* record = dynamic_cast<TorsoRecord*>(part.observer.get());
        if (record == nullptr) continue;
        for (TorsoPicture& picture : record->pictures())
            if (picture.pts >= part.from_pts && picture.pts <= part.to_pts) out.push_back(std::move(picture));
        record->pictures().clear();
    }
    return out;
}

}  // namespace quarterturn::body
