#pragma once
/// One film as it is compared: what was measured in it and where the body was.
#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "body/course.hpp"
#include "posing/analysis.hpp"

namespace quarterturn::compare {

/// Both are shared, so takes are cheap to copy between threads.
struct Take {
    std::string name;                                  ///< file name, for people
    std::shared_ptr<const posing::Analysis> analysis;  ///< as it stands, a person's corrections laid over it
    /// shown_course() of its landmarks; nullptr: measured from motion alone, so nothing about the body can be compared.
    std::shared_ptr<const body::BodyCourse> course;
};

/// A session, or a single film.
using Takes = std::vector<Take>;

/// A hold: rank of the take, rank of the segment in its analysis.
struct HoldPlace {
    std::size_t take = 0, segment = 0;
    auto operator<=>(const HoldPlace&) const = default;
};

[[nodiscard]] inline const posing::Segment& hold_at(const Takes& takes, const HoldPlace& place) {
    return takes[place.take].analysis->segments[place.segment];
}

/// The landmarks in pixels of the picture as it is shown: upright by the film's own rotation, mirrored back where the
/// film is mirrored (then left and right are changed over too), never tilted. Times are true seconds.
[[nodiscard]] std::shared_ptr<const body::BodyCourse> shown_course(const body::LandmarkSeries& series,
                                                                   const posing::ClipFacts& clip);

/// True seconds from the clip's first picture, and back to the nearest tick.
[[nodiscard]] double seconds_of(const posing::ClipFacts& clip, std::int64_t pts);
[[nodiscard]] std::int64_t pts_of(const posing::ClipFacts& clip, double seconds);

}  // namespace quarterturn::compare
