#pragma once
/// What she does while somebody passes before or behind her, told from before and after.
#include "body/course.hpp"
#include "posing/joints.hpp"

namespace quarterturn::posing {

/// Pictures in company (CourseFrame::company) whose joints cannot be told from the other's get the posture and facing
/// from just before or just after:
///
///     company        [------------------------]
///     before kept    ******o*
///     after kept                  o**o********        *: the joints are near that posture, o: they are not
///     becomes        BBBBBBBB.....AAAAAAAAAAAA        .: left as it was found
///
/// Two pictures in a row near a posture show it: up to the last such pair she has kept the one before, from the first
/// on the one after; what lies between and is not near may be the other's. When the postures before and after agree she
/// has kept hers.
/// @param joints  one entry per frame of `course` with somebody in it, as joints_of() makes them
void bridge_company(JointSeries& joints, const body::BodyCourse& course);

}  // namespace quarterturn::posing
