#pragma once
/// From the seconds a person types to the exact picture of a clip, and back.
#include <string>

#include "base/result.hpp"
#include "cli/library_access.hpp"
#include "media/frame_index.hpp"

namespace quarterturn::cli {

class ClipTime {
  public:
    /// Finds the film and reads its index, from the library's cache where it is there.
    /// @error as media::build_index; not_found when the film is gone
    [[nodiscard]] static Result<ClipTime> open(const OpenLibrary& library, const journal::Clip& clip);

    [[nodiscard]] TimeBase base() const { return index_.time_base; }
    /// The picture on screen `seconds` (true time) after the first one.
    /// @error bad_input: before the first or after the last picture
    [[nodiscard]] Result<std::int64_t> pts_at(double seconds) const;
    /// True seconds from the first picture.
    [[nodiscard]] double seconds_of(std::int64_t pts) const;

  private:
    ClipTime(media::FrameIndex index, double time_scale) : index_(std::move(index)), time_scale_(time_scale) {}
    media::FrameIndex index_;
    double time_scale_;
};

}  // namespace quarterturn::cli
