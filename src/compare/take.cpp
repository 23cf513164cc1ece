#include "compare/take.hpp"

#include "base/media_time.hpp"

namespace quarterturn::compare {

std::shared_ptr<const body::BodyCourse> shown_course(const body::LandmarkSeries& series,
                                                     const posing::ClipFacts& clip) {
    body::CourseSettings settings;
    settings.mirrored = clip.mirrored;
    settings.time_scale = clip.time_scale;
    settings.tilt_deg = 0;
    return std::make_shared<const body::BodyCourse>(body::course_of(series, settings));
}

double seconds_of(const posing::ClipFacts& clip, std::int64_t pts) {
    return clip.time_scale * seconds_between(clip.first_pts, pts, clip.time_base);
}

std::int64_t pts_of(const posing::ClipFacts& clip, double seconds) {
    return nearest_tick(seconds / clip.time_scale, clip.time_base, clip.first_pts);
}

}  // namespace quarterturn::compare
