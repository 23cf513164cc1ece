#pragma once
/// Where a foot is in every picture, mended where the network lost it for a moment.
#include <array>
#include <vector>

#include "body/course.hpp"

namespace quarterturn::posing {

enum class Foot { left, right };

struct FootPlace {
    double t_s = 0;
    std::array<body::Point, 3> marks{};  ///< ankle, heel, tip; pixels
    double seen = 0;                     ///< 0..1: ankle and heel
    double height_px = 1;                ///< of the body here

    [[nodiscard]] body::Point middle() const;
};

/// One entry per picture with somebody in it. As one foot passes the other the network may lose it or take it for the
/// other for a picture or two. Such pictures get what lies between their neighbours: those in which the foot is
/// hardly seen, and single ones in which it lies further from there than any foot can.
[[nodiscard]] std::vector<FootPlace> foot_places(const body::BodyCourse& course, Foot foot);

}  // namespace quarterturn::posing
