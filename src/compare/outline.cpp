#include "compare/outline.hpp"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace quarterturn::compare {
namespace {

/// The mask is coarse: its zero line is followed between its samples on a finer grid.
constexpr int finer = 4;
/// Smaller patches are no part of a body, share of the square looked at.
constexpr double least_area = 0.005;

double distance_to(const body::Region& region, Point pelvis) {
    return std::hypot(region.centre.x - pelvis.x, region.centre.y - pelvis.y);
}

Outline lines_in(std::span<const float> mask, const body::Region& region) {
    constexpr int side = body::mask_side, fine_side = finer * side;
    const cv::Mat coarse(side, side, CV_32FC1, const_cast<float*>(mask.data()));  // only read
    cv::Mat fine;
    cv::resize(coarse, fine, {fine_side, fine_side}, 0, 0, cv::INTER_LINEAR);
    const cv::Mat inside = fine > 0;
    std::vector<std::vector<cv::Point>> contours;
    cv::findContours(inside, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    Outline out;
    for (const auto& contour : contours) {
        if (cv::contourArea(contour) < least_area * fine_side * fine_side) continue;
        std::vector<cv::Point> smooth;
        cv::approxPolyDP(contour, smooth, 1.0, true);
        std::vector<Point> line;
        for (const cv::Point& p : smooth)
            line.push_back(region.to_picture({(p.x + 0.5) / fine_side, (p.y + 0.5) / fine_side}));
        out.push_back(std::move(line));
    }
    return out;
}

}  // namespace

Result<OutlineFinder> OutlineFinder::create(const body::Models& models) {
    auto reader = body::make_body_reader(models);
    if (!reader) return reader.error();
    return OutlineFinder{std::move(*reader)};
}

Result<Outline> OutlineFinder::find(const media::Image& picture, Point pelvis) const {
    const body::PictureView view(picture);
    const auto people = reader_->find(view);
    if (!people) return people.error();
    if (people->empty()) return Outline{};
    const auto nearest = std::min_element(people->begin(), people->end(), [&](const auto& a, const auto& b) {
        return distance_to(a.region, pelvis) < distance_to(b.region, pelvis);
    });
    // The landmarks place the square better than the detector does.
    body::Region region = nearest->region;
    const auto first = reader_->read(view, region, false);
    if (!first) return first.error();
    if (first->next) region = *first->next;
    const auto second = reader_->read(view, region, true);
    if (!second) return second.error();
    if (second->mask.size() != static_cast<std::size_t>(body::mask_side * body::mask_side)) return Outline{};
    return lines_in(second->mask, region);
}

Outline moved(Outline outline, const Affine& m) {
    for (auto& line : outline)
        for (Point& p : line) p = {m[0] * p.x + m[1] * p.y + m[2], m[3] * p.x + m[4] * p.y + m[5]};
    return outline;
}

void draw_outline(const Outline& outline, media::Image& rgb) {
    cv::Mat image(rgb.height, rgb.width, CV_8UC3, rgb.samples.data());
    constexpr int parts = 4;  // of a pixel, as a power of two
    std::vector<std::vector<cv::Point>> lines;
    for (const auto& line : outline) {
        std::vector<cv::Point> points;
        for (const Point& p : line)
            points.emplace_back(static_cast<int>(std::lround((p.x - 0.5) * (1 << parts))),
                                static_cast<int>(std::lround((p.y - 0.5) * (1 << parts))));
        lines.push_back(std::move(points));
    }
    const int thin = std::max(1, rgb.height / 400);
    cv::polylines(image, lines, true, cv::Scalar(20, 20, 20), thin + 2, cv::LINE_AA, parts);
    cv::polylines(image, lines, true, cv::Scalar(255, 240, 120), thin, cv::LINE_AA, parts);
}

}  // namespace quarterturn::compare
