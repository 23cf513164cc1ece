#pragma once
/// How tall the body stands in the picture, so that everything can be said in body heights.
///
/// In each picture the trunk (shoulders to hips) and the better seen leg (hip, knee, ankle) are measured along the
/// bones: that does not change with the posture, only with the distance from the phone. What share of the standing
/// height this chain is, is learned from the clip where she stands straight: eyes to soles are 0.936 of the height
/// (Drillis and Contini 1966, as in Winter, Biomechanics and Motor Control of Human Movement; from memory). Without
/// such pictures the chain is taken as 0.779 of the height (.818 - .530 + .530 - .039, the same source).
///
/// Perspective: parts nearer to the phone look larger; at 3.5 m an arm stretched 0.5 m forwards looks 14 % longer. The
/// height belongs to the plane in which she stands.
#include "body/course.hpp"

namespace quarterturn::body {

/// Fills height_px of every present frame (steadied over about a second), of the course, and its error.
void measure_scale(BodyCourse& course);

}  // namespace quarterturn::body
