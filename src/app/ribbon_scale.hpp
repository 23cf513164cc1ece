#pragma once
/// Time to place on the ribbon and back, with zoom.
#include <string>
#include <vector>

namespace quarterturn::app {

/// The stretch of film the ribbon shows, in seconds from the first picture.
struct RibbonSpan {
    double start_s = 0;
    double length_s = 0;
    bool operator==(const RibbonSpan&) const = default;
};

class RibbonScale {
  public:
    /// @param left,width  of the ribbon in pixels, width > 0
    RibbonScale(RibbonSpan span, float left, float width) : span_(span), left_(left), width_(width) {}
    [[nodiscard]] float x_of(double seconds) const;
    [[nodiscard]] double seconds_at(float x) const;

  private:
    RibbonSpan span_;
    float left_, width_;
};

/// Zooms by `by` around a moment; never shorter than half a second, never beyond the clip.
[[nodiscard]] RibbonSpan zoomed(RibbonSpan span, double by, double around_s, double clip_s);
/// Moves so that `seconds` is inside, with a tenth to spare, when it was not.
[[nodiscard]] RibbonSpan following(RibbonSpan span, double seconds, double clip_s);
[[nodiscard]] RibbonSpan scrolled(RibbonSpan span, double by_s, double clip_s);

struct Tick {
    double seconds = 0;
    bool labelled = false;
    std::string label;
};
/// Marks at round times: labelled ones at least `label_px` apart, small ones between.
[[nodiscard]] std::vector<Tick> ticks(RibbonSpan span, float width, float label_px);

}  // namespace quarterturn::app
